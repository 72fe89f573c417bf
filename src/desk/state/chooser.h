// The desk's own chooser of files: what is typed, the folder that it names, and what of it is shown. Pure; the folder
// itself is read elsewhere, on a thread.
#pragma once

#include "desk/state/folders.h"

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

namespace ropeline {

enum class ChooserFor {
    season,       ///< to open
    new_film,     ///< of the season that is being made
    new_season,   ///< where its file goes
    film_or_list, ///< for the open game
    other_season, ///< to be made into one with the open one
};

struct Chooser {
    ChooserFor what{};
    std::string typed; ///< a folder, and behind its last "/" what a name in it begins with
    FolderListing listing;
    std::vector<StartingPlace> places;
    std::optional<std::size_t> picked; ///< among shown_entries()
    bool every_file = false;           ///< not only those that can be chosen
    std::string trouble;               ///< what was entered cannot be chosen
};

/// In the folder of `start` where it names a file, in it where it ends with "/".
Chooser begin_chooser(ChooserFor what, const std::string& start);
/// The folder that is typed, and the beginning of a name behind it.
std::filesystem::path typed_folder(const Chooser& chooser);
std::string typed_beginning(const Chooser& chooser);

/// May a file of that name be chosen?
bool suits(ChooserFor what, const std::string& file_name);
/// Of the folder: its folders and the files that suit, whose names begin as typed; capitals do not count. Hidden ones
/// only when what is typed begins with a full stop.
std::vector<FolderEntry> shown_entries(const Chooser& chooser);

/// Tab: typed as far as all that is shown agrees; a folder that is the only one is entered.
void complete(Chooser& chooser);
/// The arrow keys.
void pick_by(Chooser& chooser, int steps);
void type_anew(Chooser& chooser, std::string typed);
void go_into(Chooser& chooser, const std::filesystem::path& folder);
void go_up(Chooser& chooser);
/// Enter, or a double click: a folder is entered, a file is the answer.
/// Out     nothing when a folder was entered, or when the chooser now says what is the matter
std::optional<std::filesystem::path> entered(Chooser& chooser);

} // namespace ropeline
