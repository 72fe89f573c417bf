// Study in the real window, on the demo's film: where it stops, what may be seen before the call, what runs on after it.
#include "desk/fitted_film.h"
#include "desk/turned_round.h"

#include "desk/state/study.h"
#include "season/come_back.h"
#include "season/dates.h"
#include "season/play.h"
#include "season/season_file.h"
#include "short_demo.h"

#include <doctest/doctest.h>
#include <fmt/core.h>

#include <cstdlib>
#include <fstream>

using namespace ropeline;
using namespace ropeline::test;

namespace {

/// Every play on film has one decision, at its last moment, and a pass comes.
void one_decision_a_play(const std::filesystem::path& season) {
    SeasonFile file = SeasonFile::open(season);
    file.change("one decision a play", [&] {
        for (const Game& game : file.games()) {
            for (Shot shot : file.shots(game.id)) {
                if (shot.film_id.empty()) continue;
                shot.came = NextAction::pass;
                file.put(shot);
                const auto moments = file.moments(shot.id);
                const Moment* last = main_moment(std::span{moments});
                for (const Moment& moment : moments)
                    if (moment.id != last->id) file.remove_moment(moment.id);
            }
        }
    });
    file.forget_changes();
}

void answers_as(const std::filesystem::path& home) {
    std::filesystem::create_directories(home / "config" / "ropeline");
    std::ofstream(home / "config" / "ropeline" / "settings.json")
        << R"({"answers_as": "Ilse Varga", "motion": false, "window_width": 1280, "window_height": 720})";
}

bool same_picture(const std::filesystem::path& one, const std::filesystem::path& other) {
    return output_of(fmt::format("compare -metric AE '{}' '{}' null: 2>&1", one.string(), other.string())) ==
           "0";
}

std::size_t frames_followed(const std::filesystem::path& season) {
    const SeasonFile file = SeasonFile::open_to_read(season);
    std::size_t sum = 0;
    for (const Game& game : file.games())
        for (const Film& film : file.films(game.id))
            for (const StoredFit& fit : file.rink_fits(film.id))
                if (fit.carried_from.empty())
                    for (const StoredCarry& carry : file.carries_of(fit))
                        sum += carry.frames.size();
    return sum;
}

/// The rink, once followed, moves what lies on the plan by a fraction of a pixel: no sitting is looked at before.
void wait_until_followed(const std::filesystem::path& season) {
    std::size_t before = 0;
    for (int same = 0, waited = 0; same < 10 && waited < 600; ++waited) {
        output_of("sleep 0.2");
        const std::size_t now = frames_followed(season);
        same = now > 0 && now == before ? same + 1 : 0;
        before = now;
    }
}

constexpr ScreenPoint nowhere{1165.0F, 718.0F}; // between the keys of the strip and F1

/// The pictures of a sitting up to the place, at the frame where the film stops.
struct Sitting {
    std::vector<std::filesystem::path> pictures;
    std::int64_t stop = -1;
};

Sitting study(const Place& place, const std::filesystem::path& season, const std::string& name) {
    const VirtualDisplay display{"1280x720x24"};
    const auto home = place.path / ("home " + name);
    answers_as(home);
    DeskWindow desk{display, home, "'" + season.string() + "'"};
    Sitting sitting;
    const auto look = [&](const std::string& what) {
        desk.settle();
        sitting.pictures.push_back(place.path / fmt::format("{} {}.png", name, what));
        desk.picture(sitting.pictures.back());
    };
    desk.key("F3");
    desk.click(nowhere);
    look("list");
    desk.key("Return");
    // The run-up is two and a half seconds; then the film stands.
    std::int64_t shown = -1;
    for (int waited = 0; waited < 100; ++waited) {
        output_of("sleep 0.2");
        const auto turns = desk.turns();
        const std::int64_t now = turns.back().shown;
        if (waited > 20 && now == shown && turns.back().wanted == now) break;
        shown = now;
    }
    sitting.stop = shown;
    wait_until_followed(season);
    look("call");
    desk.key("shift+Right ctrl+Right Page_Down shift+o"); // no key gets past the stop
    CHECK(desk.wait_for_frame(sitting.stop));
    desk.key("Left Left Right Right");
    CHECK(desk.wait_for_frame(sitting.stop));
    const StudyLayout layout = study_layout(1280.0F, 720.0F, 16.0F, false);
    desk.click(
        {layout.ribbon.x + layout.ribbon.width - 4.0F, layout.ribbon.y + 0.55F * layout.ribbon.height});
    CHECK(desk.wait_for_frame(sitting.stop));
    look("ribbon");
    desk.key("1");
    desk.click(nowhere);
    look("place");
    desk.click({layout.plan.x + 0.5F * layout.plan.width, layout.plan.y + 0.6F * layout.plan.height});
    const auto turns_before = desk.turns().size();
    output_of("sleep 3");
    CHECK(desk.turns().size() > turns_before); // the play runs on
    sitting.pictures.push_back(place.path / (name + " answer.png"));
    desk.picture(sitting.pictures.back());
    return sitting;
}

} // namespace

TEST_CASE("in the window no pixel before the call tells two decisions apart that differ in the answer alone, "
          "and no key or "
          "click gets past where the film stops") {
    const Place place;
    copy_short_demo(place.path / "demo");
    const auto first = place.path / "demo" / "demo.season";
    one_decision_a_play(first);
    const auto other = place.path / "demo" / "turned" / "demo.season";
    std::filesystem::create_directories(other.parent_path());
    std::filesystem::copy_file(first, other);
    for (const auto& file : std::filesystem::directory_iterator(place.path / "demo"))
        if (file.path().extension() == ".mp4")
            std::filesystem::create_symlink(file.path(), other.parent_path() / file.path().filename());
    turn_answers_round(other);
    const Sitting one = study(place, first, "one");
    const Sitting two = study(place, other, "two");
    CHECK(one.stop == two.stop);
    REQUIRE(one.pictures.size() == two.pictures.size());
    for (std::size_t index = 0; index + 1 < one.pictures.size(); ++index) {
        CAPTURE(one.pictures[index]);
        const bool same = same_picture(one.pictures[index], two.pictures[index]);
        CHECK(same);
        if (const char* shots = std::getenv("ROPELINE_PICTURES"); shots && !same)
            for (const auto& picture : {one.pictures[index], two.pictures[index]})
                std::filesystem::copy(picture, std::filesystem::path(shots) / picture.filename(),
                                      std::filesystem::copy_options::overwrite_existing);
    }
    CHECK_FALSE(same_picture(one.pictures.back(), two.pictures.back()));

    const SeasonFile file = SeasonFile::open_to_read(first);
    REQUIRE(file.answers().size() == 1);
    const Answer answer = file.answers()[0];
    CHECK(answer.answered_by == "Ilse Varga");
    CHECK(answer.read == Read::shot);
    CHECK(answer.due_on == (answered_wrong(answer) ? days_after(day_of(answer.answered_at), 1) : ""));
    // The film stood a tenth of a second before the moment: three frames at 30 a second.
    for (const Game& game : file.games()) {
        for (const Shot& shot : file.shots(game.id)) {
            for (const Moment& moment : file.moments(shot.id))
                if (moment.id == answer.moment_id) CHECK(moment.frame - one.stop == 3);
        }
    }
    CHECK(answer.call_right == false); // a shot was called and a pass came
    CHECK(SeasonFile::open_to_read(other).answers().at(0).call_right == true);
}
