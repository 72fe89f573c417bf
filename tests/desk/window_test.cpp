// From an empty folder to logged shots in the real window, then the season file against the film's truth.
#include "desk/real_window.h"

#include "desk/state/fit_draft.h"
#include "desk/state/log_book.h"
#include "rink/landmarks.h"
#include "season/season_file.h"

#include <doctest/doctest.h>
#include <fmt/core.h>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <fstream>
#include <unistd.h>

using namespace ropeline;
using test::DeskWindow;
using test::VirtualDisplay;

namespace {

constexpr double allowed_m = 0.15;

struct Place {
    std::filesystem::path path;
    Place() : path(std::filesystem::temp_directory_path() / fmt::format("ropeline-window-{}", getpid())) {
        std::filesystem::create_directories(path / "home");
    }
    ~Place() { std::filesystem::remove_all(path); }
};

IcePoint ice(const nlohmann::json& at) {
    return {at[0].get<double>(), at[1].get<double>()};
}

struct Truth {
    nlohmann::json json;
    ImagePoint seen(IcePoint at, std::int64_t frame) const {
        const auto& h = json["frames"][static_cast<std::size_t>(frame)]["image_from_ice"];
        const auto row = [&](std::size_t r) {
            return h[3 * r].get<double>() * at.x_m + h[3 * r + 1].get<double>() * at.y_m +
                   h[3 * r + 2].get<double>();
        };
        return {row(0) / row(2), row(1) / row(2)};
    }
    const nlohmann::json& release(std::size_t chance) const {
        const nlohmann::json* found = nullptr;
        for (const auto& moment : json["chances"][chance]["moments"]) {
            if (moment["kind"] == "release") found = &moment;
        }
        REQUIRE(found);
        return *found;
    }
};

struct Clicker {
    const DeskWindow& desk;
    FilmView view;
    void film(ImagePoint at) const { desk.click(view.to_screen(at)); }
};

bool film_is_kept(const std::filesystem::path& season) {
    try {
        const SeasonFile file = SeasonFile::open_to_read(season);
        return !file.games().empty() && !file.films(file.games().front().id).empty();
    } catch (const SeasonError&) {
        return false; // not written yet, or just being written
    }
}

/// Clicks the landmarks the desk offers, where the truth has them; those outside the picture are passed over.
void fit_rink_by_clicks(const Clicker& hand, const Truth& truth, int wanted) {
    hand.desk.key("f");
    FitDraft shadow; // does what the desk does, to know what it offers
    shadow.image = hand.view.shown;
    shadow = with_other_offer(refitted(shadow));
    for (int clicked = 0, passed = 0; clicked < wanted && passed < 20 && !shadow.offered.empty();) {
        const ImagePoint at = truth.seen(find_landmark(rule_book(shadow.rules), shadow.offered)->at, 0);
        const bool inside = at.x_px > 4 && at.y_px > 4 && at.x_px < hand.view.shown.width_px - 4 &&
                            at.y_px < hand.view.shown.height_px - 4;
        if (inside) {
            hand.film(at);
            shadow = with_click(shadow, at);
            ++clicked;
        } else {
            hand.desk.key("x");
            shadow = with_other_offer(shadow);
            ++passed;
        }
    }
    hand.desk.key("Return");
}

void go(const DeskWindow& desk, std::int64_t from, std::int64_t to) {
    for (; to - from >= 10; from += 10)
        desk.key("shift+Right");
    for (; to > from; ++from)
        desk.key("Right");
}

/// The number keys of a card line, in the order of the card.
template <class Enum>
int place_of(CardField field, const nlohmann::json& key) {
    const auto value = from_key<Enum>(key.get<std::string>());
    REQUIRE(value);
    const auto choices = choices_of(field);
    const auto found = std::ranges::find(choices, label_of(*value));
    REQUIRE(found != choices.end());
    return static_cast<int>(found - choices.begin()) + 1;
}

std::vector<int> card_keys(const nlohmann::json& chance) {
    return {place_of<Read>(CardField::read, chance["read"]),
            place_of<NextAction>(CardField::came, chance["came"]),
            place_of<Situation>(CardField::situation, chance["situation"]),
            place_of<Strength>(CardField::strength, chance["strength"]),
            place_of<Outcome>(CardField::outcome, chance["outcome"])};
}

void mark_and_choose(const Clicker& hand, const Truth& truth, std::size_t chance) {
    const auto& moment = truth.release(chance);
    const auto frame = moment["frame"].get<std::int64_t>();
    hand.desk.key("n");
    for (const auto& skate : moment["skates"])
        hand.film(truth.seen(ice(skate), frame));
    hand.film(truth.seen(ice(moment["puck"]), frame));
    for (const int number : card_keys(truth.json["chances"][chance]))
        hand.desk.key(std::to_string(number));
}

void compare(const ShotFact& fact, const Truth& truth, std::size_t chance) {
    CAPTURE(chance);
    const auto& moment = truth.release(chance);
    const auto& story = truth.json["chances"][chance];
    REQUIRE(fact.goalie_at);
    REQUIRE(fact.puck_at);
    CHECK(distance(*fact.goalie_at, ice(moment["goalie"])) < allowed_m);
    CHECK(distance(*fact.puck_at, ice(moment["puck"])) < allowed_m);
    const Parameters parameters = parameters_for(Level::senior);
    const Stance stance = stance_from_skates(ice(moment["skates"][0]), ice(moment["skates"][1]));
    const Reading true_reading =
        read_moment(stance, ice(moment["puck"]), rule_book(RuleBookId::nhl), parameters);
    REQUIRE(fact.band);
    CHECK(*fact.band == true_reading.band);
    CHECK(*fact.depth_m == doctest::Approx(true_reading.depth_m).epsilon(0.06));
    CHECK(key_of(*fact.read) == story["read"].get<std::string>());
    CHECK(key_of(*fact.came) == story["came"].get<std::string>());
    CHECK(key_of(*fact.situation) == story["situation"].get<std::string>());
    CHECK(key_of(*fact.strength) == story["strength"].get<std::string>());
    CHECK(key_of(*fact.outcome) == story["outcome"].get<std::string>());
    CHECK(fact.goalie == "Ilse Varga");
}

bool rink_is_followed(const std::filesystem::path& season) {
    try {
        const SeasonFile file = SeasonFile::open_to_read(season);
        for (const Film& film : file.films(file.games().front().id)) {
            for (const StoredFit& fit : file.rink_fits(film.id)) {
                if (fit.carried_from.empty() && file.carry_of(fit)) return true;
            }
        }
    } catch (const SeasonError&) {
    }
    return false;
}

void log_two_shots(const std::string& film_name) {
    const Place place;
    const auto film = place.path / "demo" / (film_name + ".mp4");
    REQUIRE(std::system(fmt::format("'{}' demo '{}' --short >/dev/null", ROPELINE_PROGRAM,
                                    (place.path / "demo").string())
                            .c_str()) == 0);
    Truth truth;
    std::ifstream(place.path / "demo" / (film_name + ".truth.json")) >> truth.json;
    const auto season = place.path / "home" / "Ropeline" / "My season.season";

    const VirtualDisplay display;
    {
        DeskWindow desk{display, place.path / "home"};
        desk.type("Ilse Varga");
        desk.key("Tab");
        desk.type("Harbour Pike");
        desk.key("Tab");
        desk.type("Mill Town Otters");
        desk.key("Tab Tab");
        desk.type(film.string());
        desk.key("Return");
        REQUIRE(test::wait_for(30.0, film_is_kept, season));
        desk.settle();

        Clicker hand{desk, {}};
        hand.view.panel = log_layout(1440.0F, 860.0F, 16.0F).film;
        hand.view.shown = {1280, 720};
        fit_rink_by_clicks(hand, truth, 9);
        REQUIRE(test::wait_for(180.0, rink_is_followed, season));
        desk.settle();

        const auto first = truth.release(0)["frame"].get<std::int64_t>();
        const auto second = truth.release(1)["frame"].get<std::int64_t>();
        go(desk, 0, first);
        mark_and_choose(hand, truth, 0);
        desk.key("Return");
        go(desk, first, second);
        mark_and_choose(hand, truth, 1);
        if (const char* shots = std::getenv("ROPELINE_PICTURES"))
            desk.picture(std::filesystem::path(shots) / (film_name + ".png"));
        CHECK(desk.running());
        desk.kill();
    }

    const SeasonFile file = SeasonFile::open_to_read(season);
    const auto facts = file.shot_facts();
    REQUIRE(facts.size() == 2);
    const bool in_order =
        facts[0].outcome == from_key<Outcome>(truth.json["chances"][0]["outcome"].get<std::string>());
    compare(facts[in_order ? 0 : 1], truth, 0);
    compare(facts[in_order ? 1 : 0], truth, 1);
    CHECK(std::system(fmt::format("'{}' check '{}' >/dev/null", ROPELINE_PROGRAM, season.string()).c_str()) ==
          0);
}

} // namespace

TEST_CASE("a coach goes from an empty folder to two logged shots, and a killed desk loses nothing") {
    log_two_shots("end_zone");
}

TEST_CASE("the same on the camera that pans and zooms: the rink is followed from one fit") {
    log_two_shots("bench_side");
}

TEST_CASE("the desk stays usable when the film has moved away, and finds it again") {
    const Place place;
    REQUIRE(std::system(fmt::format("'{}' demo '{}' --short >/dev/null", ROPELINE_PROGRAM,
                                    (place.path / "demo").string())
                            .c_str()) == 0);
    const auto season = place.path / "demo" / "demo.season";
    std::filesystem::rename(place.path / "demo" / "end_zone.mp4", place.path / "home" / "elsewhere.mp4");
    const VirtualDisplay display;
    DeskWindow desk{display, place.path / "home", "'" + season.string() + "'"};
    desk.key("Down Down F4 F3 F2");
    CHECK(desk.running());
    CHECK(SeasonFile::open_to_read(season).shot_facts().size() > 100);
    desk.key("o");
    // The film's new place is typed into the field of the games page; Tab walks past date and teams.
    desk.key("Tab Tab Tab Tab");
    desk.type((place.path / "home" / "elsewhere.mp4").string());
    desk.key("Return");
    const auto found_again = [](const std::filesystem::path& path) {
        try {
            const SeasonFile file = SeasonFile::open_to_read(path);
            for (const Film& one : file.films(file.games().back().id)) {
                if (one.path.find("elsewhere.mp4") != std::string::npos) return true;
            }
        } catch (const SeasonError&) {
        }
        return false;
    };
    CHECK(test::wait_for(20.0, found_again, season));
    const SeasonFile file = SeasonFile::open_to_read(season);
    CHECK(file.films(file.games().back().id).size() == 2);
    CHECK(desk.running());
}
