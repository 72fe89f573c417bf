// Folders and drives as a coach picks from them. What asks the disk says so: it is asked on a thread.
#pragma once

#include <cstdint>
#include <filesystem>
#include <string>
#include <string_view>
#include <vector>

namespace ropeline {

std::filesystem::path home_folder();
/// "~/Films" with the home folder in place of the "~"; quotes around it, as a file manager copies them, are left out.
std::filesystem::path spelled_out(std::string_view typed, const std::filesystem::path& home = home_folder());
/// The same the other way round, for the eye.
std::string shown_place(const std::filesystem::path& path, const std::filesystem::path& home = home_folder());

/// The path, or with a number behind its name where that is there already.
std::filesystem::path free_path(const std::filesystem::path& wanted);

/// Latin capitals made small, as names and endings of files are compared.
std::string in_small_letters(std::string_view text);

struct FolderEntry {
    std::string name;
    bool is_folder = false;
    std::uintmax_t bytes = 0;
};
struct FolderListing {
    std::filesystem::path folder;
    std::vector<FolderEntry> entries; ///< folders first, each by name
    std::string why;                  ///< it cannot be read; empty when it could
};
/// Asks the disk.
FolderListing list_folder(const std::filesystem::path& folder);

/// A place to begin from: home, a drive, a folder that was used before.
struct StartingPlace {
    std::string name;
    std::filesystem::path folder;
};
/// Drives that a person plugged in, from the system's table of mounts.
/// In      text of /proc/self/mounts: device, mount point, ..., spaces in them as \040 (fstab(5))
std::vector<StartingPlace> drives_in(std::string_view mounts);
/// Home, those folders of it that films are kept in, and the drives. Asks the disk.
std::vector<StartingPlace> starting_places();

} // namespace ropeline
