// The rows of command_rows.inc as functions, and the choice of the one that a key asks for.
#include "desk/commands.h"

#include <array>

namespace ropeline {

namespace {

using Does = void (*)(App&);

constexpr std::array does = [] {
    return std::array{
#define ROPELINE_COMMAND(name, chord, label, group, places, ...) Does{[](App& app) { __VA_ARGS__; }},
#include "desk/state/command_rows.inc"
#undef ROPELINE_COMMAND
    };
}();

/// A page hides what the keys do else.
bool page_over(const App& app) {
    return app.exports.open || app.unite.open || app.pages.games || app.pages.parameters ||
           app.pages.what_we_log || app.pages.key_sheet;
}

} // namespace

bool numbers_choose(const App& app) {
    return !app.chooser && !app.pages.moving && !page_over(app);
}

Place place_of_keys(const App& app) {
    if (app.chooser) return Place::chooser;
    if (app.pages.moving) return Place::asking;
    if (!app.pages.key_sheet && start_page_shown(app)) return Place::start_page;
    if (!app.log.book) return Place::start_page;
    if (app.scorer_list && app.side == Side::log && !page_over(app)) return Place::scorer_list;
    if (app.exports.open || app.unite.open || any_open(app.pages)) return Place::page;
    if (app.side == Side::study) return app.study.turn ? Place::studying : Place::study;
    if (app.side == Side::season) return Place::season;
    return app.list.whole_page ? Place::whole_list : Place::log;
}

void run_command(App& app, Command command) {
    if (is_valid(command, place_of_keys(app))) does.at(static_cast<std::size_t>(command))(app);
}

} // namespace ropeline
