#include "desk/state/folders.h"

#include "season/trimmed.h"

#include <algorithm>
#include <cctype>
#include <cstdlib>
#include <fstream>
#include <iterator>
#include <sstream>
#include <tuple>

namespace ropeline {

namespace {

/// "\040" is a space: three octal digits behind a backslash.
std::string without_escapes(std::string_view escaped) {
    std::string plain;
    for (std::size_t at = 0; at < escaped.size(); ++at) {
        const bool octal =
            escaped[at] == '\\' && at + 3 < escaped.size() &&
            std::ranges::all_of(escaped.substr(at + 1, 3), [](char c) { return c >= '0' && c <= '7'; });
        if (!octal) {
            plain += escaped[at];
            continue;
        }
        plain += static_cast<char>((escaped[at + 1] - '0') * 64 + (escaped[at + 2] - '0') * 8 +
                                   (escaped[at + 3] - '0'));
        at += 3;
    }
    return plain;
}

} // namespace

std::filesystem::path home_folder() {
    const char* set = std::getenv("HOME");
    return set && *set ? std::filesystem::path(set) : std::filesystem::current_path();
}

std::filesystem::path spelled_out(std::string_view typed, const std::filesystem::path& home) {
    typed = trimmed(typed);
    if (typed.size() > 1 && (typed.front() == '\'' || typed.front() == '"') && typed.back() == typed.front())
        typed = typed.substr(1, typed.size() - 2);
    if (typed == "~") return home;
    if (typed.starts_with("~/")) return home / typed.substr(2);
    return typed;
}

std::string shown_place(const std::filesystem::path& path, const std::filesystem::path& home) {
    const std::string whole = path.string();
    const std::string start = home.string();
    if (start.size() < 2 || !whole.starts_with(start)) return whole;
    if (whole.size() == start.size()) return "~";
    return whole[start.size()] == '/' ? "~" + whole.substr(start.size()) : whole;
}

std::filesystem::path free_path(const std::filesystem::path& wanted) {
    std::filesystem::path path = wanted;
    std::error_code failed;
    for (int number = 2; std::filesystem::exists(path, failed); ++number)
        path.replace_filename(wanted.stem().string() + " " + std::to_string(number) +
                              wanted.extension().string());
    return path;
}

std::string in_small_letters(std::string_view text) {
    std::string letters{text};
    std::ranges::transform(letters, letters.begin(), [](unsigned char c) { return std::tolower(c); });
    return letters;
}

FolderListing list_folder(const std::filesystem::path& folder) {
    FolderListing listing{folder, {}, {}};
    std::error_code failed;
    std::filesystem::directory_iterator at(folder, failed);
    for (; !failed && at != std::filesystem::directory_iterator{}; at.increment(failed)) {
        std::error_code unknown; // a link to nowhere is shown as what it is called
        FolderEntry entry{at->path().filename().string(), at->is_directory(unknown), 0};
        if (!entry.is_folder && at->is_regular_file(unknown)) entry.bytes = at->file_size(unknown);
        listing.entries.push_back(std::move(entry));
    }
    if (failed) {
        std::error_code unknown;
        listing.why = std::filesystem::exists(folder, unknown)
                          ? "This folder cannot be read: " + failed.message() + "."
                          : std::string{"There is no such folder."};
    }
    std::ranges::sort(listing.entries, {}, [](const FolderEntry& entry) {
        return std::tuple{!entry.is_folder, in_small_letters(entry.name), entry.name};
    });
    return listing;
}

std::vector<StartingPlace> drives_in(std::string_view mounts) {
    std::vector<StartingPlace> drives;
    std::istringstream lines{std::string{mounts}};
    for (std::string line; std::getline(lines, line);) {
        std::istringstream fields{line};
        std::string device, mounted;
        if (!(fields >> device >> mounted)) continue;
        const std::filesystem::path at = without_escapes(mounted);
        const std::string place = at.string();
        const bool plugged_in =
            place.starts_with("/media/") || place.starts_with("/run/media/") || place.starts_with("/mnt/");
        if (plugged_in) drives.push_back({at.filename().string(), at});
    }
    return drives;
}

std::vector<StartingPlace> starting_places() {
    const std::filesystem::path home = home_folder();
    std::vector<StartingPlace> places{{"Home", home}};
    for (const char* name : {"Ropeline", "Videos", "Movies", "Desktop", "Downloads"}) {
        std::error_code failed;
        if (std::filesystem::is_directory(home / name, failed)) places.push_back({name, home / name});
    }
    std::ifstream file("/proc/self/mounts");
    const std::string mounts{std::istreambuf_iterator<char>(file), {}};
    std::ranges::move(drives_in(mounts), std::back_inserter(places));
    places.push_back({"This computer", "/"});
    return places;
}

} // namespace ropeline
