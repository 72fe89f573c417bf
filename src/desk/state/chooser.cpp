#include "desk/state/chooser.h"

#include <algorithm>
#include <array>
#include <cctype>
#include <string_view>

namespace ropeline {

namespace {

bool begins_with(std::string_view name, std::string_view beginning) {
    return in_small_letters(name).starts_with(in_small_letters(beginning));
}

std::string as_folder(const std::filesystem::path& folder) {
    std::string shown = shown_place(folder);
    if (!shown.ends_with('/')) shown += '/';
    return shown;
}

/// Of two names that begin alike but for capitals, the first's letters as far as that goes.
std::size_t common_length(std::string_view one, std::string_view other) {
    std::size_t at = 0;
    while (at < one.size() && at < other.size() &&
           std::tolower(static_cast<unsigned char>(one[at])) ==
               std::tolower(static_cast<unsigned char>(other[at])))
        ++at;
    return at;
}

bool listing_is_of(const Chooser& chooser) {
    return chooser.listing.folder == typed_folder(chooser);
}

} // namespace

Chooser begin_chooser(ChooserFor what, const std::string& start) {
    Chooser chooser;
    chooser.what = what;
    chooser.typed = start.empty() ? as_folder(home_folder()) : shown_place(spelled_out(start));
    if (what != ChooserFor::new_season) {
        const auto slash = chooser.typed.rfind('/');
        chooser.typed.resize(slash == std::string::npos ? 0 : slash + 1);
        if (chooser.typed.empty()) chooser.typed = as_folder(home_folder());
    }
    return chooser;
}

std::filesystem::path typed_folder(const Chooser& chooser) {
    const auto slash = chooser.typed.rfind('/');
    if (slash == std::string::npos) return home_folder();
    const std::string folder = chooser.typed.substr(0, slash);
    return folder.empty() ? std::filesystem::path("/") : home_folder() / spelled_out(folder);
}

std::string typed_beginning(const Chooser& chooser) {
    const auto slash = chooser.typed.rfind('/');
    return slash == std::string::npos ? chooser.typed : chooser.typed.substr(slash + 1);
}

bool suits(ChooserFor what, const std::string& file_name) {
    constexpr std::array<std::string_view, 17> films{".mp4",  ".mov", ".mkv", ".m4v",  ".avi",  ".mts",
                                                     ".m2ts", ".ts",  ".mpg", ".mpeg", ".webm", ".wmv",
                                                     ".mxf",  ".3gp", ".flv", ".ogv",  ".vob"};
    const std::string ending = in_small_letters(std::filesystem::path(file_name).extension().string());
    if (what == ChooserFor::season || what == ChooserFor::new_season || what == ChooserFor::other_season)
        return ending == ".season";
    if (what == ChooserFor::film_or_list && (ending == ".csv" || ending == ".tsv")) return true;
    return std::ranges::find(films, ending) != films.end();
}

std::vector<FolderEntry> shown_entries(const Chooser& chooser) {
    std::vector<FolderEntry> shown;
    if (!listing_is_of(chooser)) return shown;
    // While a new name is typed, all that is there stays in view.
    const std::string beginning =
        chooser.what == ChooserFor::new_season ? std::string{} : typed_beginning(chooser);
    for (const FolderEntry& entry : chooser.listing.entries) {
        if (entry.name.starts_with('.') && !beginning.starts_with('.')) continue;
        if (!begins_with(entry.name, beginning)) continue;
        if (entry.is_folder || chooser.every_file || suits(chooser.what, entry.name)) shown.push_back(entry);
    }
    return shown;
}

void complete(Chooser& chooser) {
    const std::vector<FolderEntry> shown = shown_entries(chooser);
    if (shown.empty() || chooser.what == ChooserFor::new_season) return;
    if (shown.size() == 1) {
        const auto whole = typed_folder(chooser) / shown.front().name;
        return type_anew(chooser, shown.front().is_folder ? as_folder(whole) : shown_place(whole));
    }
    std::string common = shown.front().name;
    for (const FolderEntry& entry : shown)
        common.resize(common_length(common, entry.name));
    if (common.size() > typed_beginning(chooser).size())
        type_anew(chooser, as_folder(typed_folder(chooser)) + common);
}

void pick_by(Chooser& chooser, int steps) {
    const auto count = static_cast<std::ptrdiff_t>(shown_entries(chooser).size());
    if (count == 0) return chooser.picked.reset();
    const std::ptrdiff_t now =
        chooser.picked ? static_cast<std::ptrdiff_t>(*chooser.picked) + steps : (steps > 0 ? 0 : count - 1);
    chooser.picked = static_cast<std::size_t>(std::clamp<std::ptrdiff_t>(now, 0, count - 1));
}

void type_anew(Chooser& chooser, std::string typed) {
    chooser.typed = std::move(typed);
    chooser.picked.reset();
    chooser.trouble.clear();
}

void go_into(Chooser& chooser, const std::filesystem::path& folder) {
    const std::string name =
        chooser.what == ChooserFor::new_season ? typed_beginning(chooser) : std::string{};
    type_anew(chooser, as_folder(folder) + name);
}

void go_up(Chooser& chooser) {
    go_into(chooser, typed_folder(chooser).parent_path());
}

std::optional<std::filesystem::path> entered(Chooser& chooser) {
    const std::vector<FolderEntry> shown = shown_entries(chooser);
    const std::string beginning = typed_beginning(chooser);
    const FolderEntry* entry = nullptr;
    if (chooser.picked && *chooser.picked < shown.size()) {
        entry = &shown[*chooser.picked];
    } else if (beginning == ".." || beginning == "~") {
        if (beginning == "~") go_into(chooser, home_folder());
        if (beginning == "..") go_up(chooser);
        return std::nullopt;
    } else if (chooser.what != ChooserFor::new_season && !beginning.empty()) {
        const auto exact = std::ranges::find(shown, beginning, &FolderEntry::name);
        if (exact != shown.end()) entry = &*exact;
        if (exact == shown.end() && shown.size() == 1) entry = &shown.front();
    }
    if (entry && entry->is_folder) {
        go_into(chooser, typed_folder(chooser) / entry->name);
        return std::nullopt;
    }
    if (entry) return typed_folder(chooser) / entry->name;
    if (beginning.empty()) {
        chooser.trouble = chooser.what == ChooserFor::new_season ? "Write a name for the season's file."
                                                                 : "Pick a file, or go on typing.";
        return std::nullopt;
    }
    const bool looked = listing_is_of(chooser) && chooser.listing.why.empty();
    if (chooser.what != ChooserFor::new_season && looked) {
        chooser.trouble = "No file here begins with \"" + beginning + "\".";
        return std::nullopt;
    }
    return home_folder() / spelled_out(chooser.typed);
}

} // namespace ropeline
