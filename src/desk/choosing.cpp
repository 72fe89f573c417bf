// The chooser at work: folders are read on a thread, and what was chosen goes where it was asked for.
#include "desk/commands.h"
#include "desk/started_program.h"

#include <array>
#include <cstdio>
#include <cstdlib>
#include <sys/wait.h>
#include <unistd.h>

namespace ropeline {

namespace {

/// The line that the program prints; empty when it cannot be started or ends without one.
std::string line_of(const std::vector<std::string>& call) {
    std::array<int, 2> ends{};
    if (pipe(ends.data()) != 0) return {};
    posix_spawn_file_actions_t actions;
    posix_spawn_file_actions_init(&actions);
    posix_spawn_file_actions_adddup2(&actions, ends[1], STDOUT_FILENO);
    posix_spawn_file_actions_addclose(&actions, ends[0]);
    const auto child = started_program(call, actions);
    close(ends[1]);
    std::string said;
    std::array<char, 512> part{};
    for (ssize_t got = 0; child && (got = read(ends[0], part.data(), part.size())) > 0;)
        said.append(part.data(), static_cast<std::size_t>(got));
    close(ends[0]);
    int status = 1;
    if (child) waitpid(*child, &status, 0);
    return status == 0 ? said.substr(0, said.find('\n')) : std::string{};
}

bool is_installed(const char* program) {
    const char* set = std::getenv("PATH");
    std::string_view folders = set ? set : "";
    while (!folders.empty()) {
        const auto end = folders.find(':');
        if (access((std::string(folders.substr(0, end)) + "/" + program).c_str(), X_OK) == 0) return true;
        folders.remove_prefix(end == std::string_view::npos ? folders.size() : end + 1);
    }
    return false;
}

void take_choice(App& app, ChooserFor what, const std::filesystem::path& path) {
    switch (what) {
    case ChooserFor::season:
        try {
            open_season(app, path);
        } catch (const std::exception& error) {
            tell_trouble(app, error);
        }
        break;
    case ChooserFor::new_film:
        app.start.form.film = shown_place(path);
        app.start.field_trouble.film.clear();
        break;
    case ChooserFor::new_season:
        app.start.form.path = shown_place(path);
        app.start.form.path_typed = true;
        app.start.field_trouble.path.clear();
        break;
    case ChooserFor::other_season:
        bring_in_season(app, path);
        break;
    case ChooserFor::film_or_list:
        app.pages.games = false;
        app.actions.push_back(OpenFile{path.string()});
        break;
    }
}

} // namespace

void show_chooser(App& app, ChooserFor what) {
    std::string start;
    if (what == ChooserFor::season && !app.settings.recent.empty())
        start = app.settings.recent.front().path.string();
    if (what == ChooserFor::new_film) start = app.start.form.film;
    if (what == ChooserFor::new_season) start = app.start.form.path;
    if (what == ChooserFor::film_or_list) start = app.stage.path;
    if (start.empty() && app.log.book) start = app.log.book->file().path().string();
    ChooserDesk& desk = app.chooser.emplace();
    desk.chooser = begin_chooser(what, start);
    desk.to_field = true;
    desk.finding_places.emplace([] { return PlacesFound{starting_places(), is_installed("zenity")}; });
}

void ask_system(App& app) {
    if (!app.chooser || app.chooser->system_window) return;
    const Chooser& chooser = app.chooser->chooser;
    std::vector<std::string> call{"zenity", "--file-selection",
                                  "--filename=" + spelled_out(chooser.typed).string()};
    if (chooser.what == ChooserFor::new_season) call.emplace_back("--save");
    app.chooser->system_window.emplace([call] { return line_of(call); });
}

void take_entered(App& app) {
    if (!app.chooser) return;
    const auto path = entered(app.chooser->chooser);
    app.chooser->to_field = true;
    if (!path) return;
    const ChooserFor what = app.chooser->chooser.what;
    app.chooser.reset();
    take_choice(app, what, *path);
}

bool watch_chooser(App& app) {
    if (!app.chooser) return false;
    ChooserDesk& desk = *app.chooser;
    bool news = false;
    if (auto found = take_answer(desk.finding_places)) {
        desk.chooser.places = std::move(found->places);
        desk.system_has_one = found->zenity;
        news = true;
    }
    if (auto listing = take_answer(desk.reading)) {
        desk.chooser.listing = *std::move(listing);
        news = true;
    }
    const std::filesystem::path folder = typed_folder(desk.chooser);
    if (desk.asked != folder) { // what is still read of another folder is let go of
        desk.asked = folder;
        desk.reading.emplace([folder] { return list_folder(folder); });
    }
    if (auto line = take_answer(desk.system_window)) {
        if (line->empty()) return true;
        const ChooserFor what = desk.chooser.what;
        app.chooser.reset();
        take_choice(app, what, *line);
        return true;
    }
    return news || desk.reading || desk.finding_places || desk.system_window;
}

} // namespace ropeline
