// The same work by the mouse alone, and the desk that comes back to where it was left, in the real window.
#include "desk/fitted_film.h"

#include "desk/state/settings.h"
#include "season/season_file.h"

#include <doctest/doctest.h>

using namespace ropeline;
using namespace ropeline::test;

namespace {

constexpr float unit = 16.0F;

/// The middle of a button over the ribbon: to the start, back, run, on, to the end.
ScreenPoint transport_button(int index) {
    const Rect ribbon = log_layout(1440.0F, 860.0F, unit, LogShape::film).ribbon;
    return {ribbon.x + (0.9F + 0.95F + 2.1F * static_cast<float>(index)) * unit, ribbon.y + 0.9F * unit};
}

Settings settings_of(const OpenFilm& at) {
    return load_settings(at.place.path / "home" / "config" / "ropeline" / "settings.json");
}

} // namespace

TEST_CASE("the film is stepped by the buttons over the ribbon, a shot is made by the strip, and the desk "
          "opens there "
          "again") {
    OpenFilm at{"end_zone", chances_only(1, 25)};
    at.desk->click(transport_button(3));
    REQUIRE(at.desk->wait_for_frame(1));
    at.desk->click(transport_button(4));
    at.desk->settle();
    const std::int64_t last = at.desk->turns().back().wanted;
    CHECK(last > 10);
    at.desk->click(transport_button(1));
    REQUIRE(at.desk->wait_for_frame(last - 1));
    at.desk->click(transport_button(0));
    REQUIRE(at.desk->wait_for_frame(0));
    at.desk->key("End");
    REQUIRE(at.desk->wait_for_frame(last));
    at.desk->key("Left Left n Return");
    CHECK(SeasonFile::open_to_read(at.season()).shot_facts().size() == 1);
    at.desk->key("F9"); // the settings are written
    at.look("by_mouse.png");
    at.desk->leave();
    REQUIRE(settings_of(at).recent.size() == 1);
    CHECK(settings_of(at).recent[0].left.frame == last - 2);

    at.desk.emplace(at.display, at.place.path / "home");
    CHECK(at.desk->wait_for_frame(last - 2));
    at.look("came_back.png");
}
