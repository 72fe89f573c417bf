// A coach who does everything wrong: the desk says so, goes on, and loses nothing.
#include "desk/fitted_film.h"

#include "film/clips.h"
#include "season/season_file.h"

#include <doctest/doctest.h>
#include <fmt/core.h>

#include <algorithm>
#include <cstdlib>
#include <fstream>

using namespace ropeline;
using namespace ropeline::test;

namespace {

bool has_a_film_elsewhere(const std::filesystem::path& season) {
    const SeasonFile file = SeasonFile::open_to_read(season);
    return file.films(file.games().back().id).size() > 1;
}

/// Every key that means nothing without an open shot.
void press_everything(const DeskWindow& desk) {
    desk.key("1 2 3 4 5 6 7 8 9 e s g p r y b a k h l x period comma w v Escape Delete Return Tab shift+Tab");
    desk.key("ctrl+space ctrl+space shift+Up shift+Up shift+Down z shift+z t t t t m m c c F8 Escape F1 F1 "
             "F9 F9 Escape Escape");
    desk.key("F3 1 2 3 Return space Escape F4 Down Up Return F2 Escape");
}

} // namespace

TEST_CASE("without a display the desk says so in one line and ends, instead of running unseen") {
    for (const char* display :
         {"env -u DISPLAY -u WAYLAND_DISPLAY", "env -u WAYLAND_DISPLAY DISPLAY=:4711"}) {
        const clips::Folder folder;
        const std::string home = folder.path().string();
        const std::string said = output_of(fmt::format(
            "{0} HOME='{1}' XDG_CONFIG_HOME='{1}' timeout 60 '{2}' open 2>&1 | grep -v XDG_RUNTIME_DIR; "
            "echo ends",
            display, home, ROPELINE_PROGRAM));
        CAPTURE(said);
        CHECK(std::ranges::count(said, '\n') == 1);
        CHECK(said.find("there is no display") != std::string::npos);
    }
}

TEST_CASE("wrong keys, marks off the ice, a window of every size, a film that goes away: nothing is lost") {
    FittedFilm at{"end_zone", chances_only(1, 25)};
    const DeskWindow& desk = *at.desk;
    press_everything(desk);
    REQUIRE(desk.running());
    CHECK(SeasonFile::open_to_read(at.season()).shot_facts().empty());

    const auto& moment = at.truth.release(0);
    const auto frame = moment["frame"].get<std::int64_t>();
    go(desk, desk.turns().back().wanted, frame);
    desk.key("n n");             // the second finds the first
    at.hand->film({640.0, 3.0}); // the stands, far outside the boards
    at.hand->film({5.0, 5.0});
    const Rect& film = at.hand->view.panel;
    const ScreenPoint corner = at.hand->view.to_screen({0.0, 0.0});
    if (corner.x > film.x + 3.0F)
        desk.click({film.x + 1.0F, film.y + 0.5F * film.height}); // beside the picture
    if (corner.y > film.y + 3.0F) desk.click({film.x + 0.5F * film.width, film.y + 1.0F});
    for (const auto& skate : moment["skates"])
        at.hand->film(at.truth.seen(ice(skate), frame));
    at.hand->film(at.truth.seen(ice(moment["puck"]), frame));
    desk.key("9 8 0 minus Escape"); // no such choices
    for (const int number : card_keys(at.truth.json["chances"][0]))
        desk.key(std::to_string(number));
    const auto logged = SeasonFile::open_to_read(at.season()).shot_facts();
    REQUIRE(logged.size() == 1);
    compare(logged.front(), at.truth, 0);

    for (const auto& [width, height] : {std::pair{200, 120}, {3200, 1900}, {640, 2000}, {1440, 860}}) {
        desk.resize(width, height);
        desk.key("Right Left");
        REQUIRE(desk.running());
    }
    at.look("after_every_size.png");
    desk.key("Delete ctrl+z"); // the shot goes, and comes back
    CHECK(SeasonFile::open_to_read(at.season()).shot_facts().size() == 1);

    // The film is deleted under the desk; then something that is no film lies in its place and is opened as another.
    std::filesystem::remove(at.film());
    desk.key("Right Left Right Left space space");
    REQUIRE(desk.running());
    std::ofstream(at.place.path / "home" / "no_film.mp4") << "this is no film";
    desk.key("o");
    desk.key("Tab Tab Tab Tab");
    desk.type((at.place.path / "home" / "no_film.mp4").string());
    desk.key("Return");
    desk.settle();
    desk.key("Right n 1 Return");
    at.look("no_film.png");
    CHECK_FALSE(has_a_film_elsewhere(at.season()));
    at.kill("wrong_hands.png");

    const auto facts = SeasonFile::open_to_read(at.season()).shot_facts();
    REQUIRE(facts.size() == 1);
    compare(facts.front(), at.truth, 0);
    CHECK(facts.front().depth_m == logged.front().depth_m);
    CHECK(std::system(
              fmt::format("'{}' check '{}' >/dev/null", ROPELINE_PROGRAM, at.season().string()).c_str()) ==
          256); // the season is sound; its film is missing, which check says with status 1
}
