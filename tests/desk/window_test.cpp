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
#include <optional>
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

/// From an empty folder to a film whose rink is fitted by clicks and followed.
struct FittedFilm {
    explicit FittedFilm(const std::string& film_name) {
        const auto demo = place.path / "demo";
        REQUIRE(std::system(fmt::format("'{}' demo '{}' --short >/dev/null", ROPELINE_PROGRAM, demo.string())
                                .c_str()) == 0);
        std::ifstream(demo / (film_name + ".truth.json")) >> truth.json;
        desk.emplace(display, place.path / "home");
        desk->type("Ilse Varga");
        desk->key("Tab");
        desk->type("Harbour Pike");
        desk->key("Tab");
        desk->type("Mill Town Otters");
        desk->key("Tab Tab");
        desk->type((demo / (film_name + ".mp4")).string());
        desk->key("Return");
        REQUIRE(test::wait_for(30.0, film_is_kept, season()));
        desk->settle();
        hand.emplace(Clicker{*desk, {}});
        hand->view.panel = log_layout(1440.0F, 860.0F, 16.0F).film;
        hand->view.shown = {1280, 720};
        fit_rink_by_clicks(*hand, truth, 9);
        REQUIRE(test::wait_for(180.0, rink_is_followed, season()));
        desk->settle();
    }
    std::filesystem::path season() const { return place.path / "home" / "Ropeline" / "My season.season"; }
    /// Looks, and then does what a power cut does.
    void kill(const std::string& picture) {
        if (const char* shots = std::getenv("ROPELINE_PICTURES"))
            desk->picture(std::filesystem::path(shots) / picture);
        CHECK(desk->running());
        desk->kill();
    }
    Place place;
    Truth truth;
    VirtualDisplay display;
    std::optional<DeskWindow> desk;
    std::optional<Clicker> hand;
};

void log_two_shots(const std::string& film_name) {
    FittedFilm at{film_name};
    const auto first = at.truth.release(0)["frame"].get<std::int64_t>();
    const auto second = at.truth.release(1)["frame"].get<std::int64_t>();
    go(*at.desk, 0, first);
    mark_and_choose(*at.hand, at.truth, 0);
    at.desk->key("Return");
    go(*at.desk, first, second);
    mark_and_choose(*at.hand, at.truth, 1);
    at.kill(film_name + ".png");

    const SeasonFile file = SeasonFile::open_to_read(at.season());
    const auto facts = file.shot_facts();
    REQUIRE(facts.size() == 2);
    const bool in_order =
        facts[0].outcome == from_key<Outcome>(at.truth.json["chances"][0]["outcome"].get<std::string>());
    compare(facts[in_order ? 0 : 1], at.truth, 0);
    compare(facts[in_order ? 1 : 0], at.truth, 1);
    CHECK(std::system(
              fmt::format("'{}' check '{}' >/dev/null", ROPELINE_PROGRAM, at.season().string()).c_str()) ==
          0);
}

const nlohmann::json& moment_of(const Truth& truth, std::size_t chance, const std::string& kind) {
    const auto& moments = truth.json["chances"][chance]["moments"];
    const auto found = std::find_if(moments.begin(), moments.end(),
                                    [&](const nlohmann::json& moment) { return moment["kind"] == kind; });
    REQUIRE(found != moments.end());
    return *found;
}

void mark_threats(const Clicker& hand, const Truth& truth, const nlohmann::json& moment) {
    for (const auto& threat : moment["threats"]) {
        hand.desk.key("r");
        hand.film(truth.seen(ice(threat["at"]), moment["frame"].get<std::int64_t>()));
        if (threat["one_timer"].get<bool>()) hand.desk.key("y");
        if (!threat["open"].get<bool>()) hand.desk.key("b");
    }
}

/// What the model says of the true positions.
struct TrueDecision {
    explicit TrueDecision(const nlohmann::json& moment, Situation situation, NextAction next) {
        for (const auto& threat : moment["threats"])
            threats.push_back(
                {ice(threat["at"]), threat["one_timer"].get<bool>(), threat["open"].get<bool>()});
        MarkedMoment marked;
        marked.stance = stance_from_skates(ice(moment["skates"][0]), ice(moment["skates"][1]));
        marked.puck = ice(moment["puck"]);
        marked.threats = threats;
        marked.situation = situation;
        marked.next = next;
        decision = decide(marked, rule_book(RuleBookId::nhl), parameters_for(Level::senior));
    }
    std::vector<Threat> threats;
    Decision decision;
};

void compare_passes(const Moment& moment, const TrueDecision& truth) {
    std::vector<ThreatReading> passes;
    for (const Mark& mark : moment.marks) {
        if (mark.kind == MarkKind::threat && mark.pass) passes.push_back(*mark.pass);
    }
    REQUIRE(passes.size() == truth.threats.size());
    for (std::size_t index = 0; index < passes.size(); ++index) {
        CAPTURE(index);
        CHECK(std::abs(passes[index].margin_s - truth.decision.threats[index].margin_s) < 0.05);
        CHECK(std::abs(passes[index].pass_s - truth.decision.threats[index].pass_s) < 0.02);
    }
    REQUIRE(moment.advice);
    CHECK(std::abs(moment.advice->depth_m - truth.decision.advice.depth_m) < 0.10);
}

} // namespace

TEST_CASE("a coach goes from an empty folder to two logged shots, and a killed desk loses nothing") {
    log_two_shots("end_zone");
}

TEST_CASE("the same on the camera that pans and zooms: the rink is followed from one fit") {
    log_two_shots("bench_side");
}

TEST_CASE("a play of two moments with opponents to pass to: margins, advice and verdict are kept") {
    FittedFilm at{"end_zone"};
    const auto& release = moment_of(at.truth, 0, "release");
    const auto& pass = moment_of(at.truth, 0, "pass");
    const auto release_frame = release["frame"].get<std::int64_t>();
    const auto pass_frame = pass["frame"].get<std::int64_t>();
    go(*at.desk, 0, release_frame);
    mark_and_choose(*at.hand, at.truth, 0);
    mark_threats(*at.hand, at.truth, release);
    for (std::int64_t frame = release_frame; frame > pass_frame; --frame)
        at.desk->key("Left");
    at.desk->key("a");
    for (const auto& skate : pass["skates"])
        at.hand->film(at.truth.seen(ice(skate), pass_frame));
    at.hand->film(at.truth.seen(ice(pass["puck"]), pass_frame));
    mark_threats(*at.hand, at.truth, pass);
    at.kill("play.png");

    const SeasonFile file = SeasonFile::open_to_read(at.season());
    const auto facts = file.shot_facts();
    REQUIRE(facts.size() == 1);
    const auto moments = file.moments(facts[0].shot_id);
    REQUIRE(moments.size() == 2);
    CHECK(moments[0].kind == MomentKind::pass);
    CHECK(moments[0].frame == pass_frame);
    CHECK(moments[1].kind == MomentKind::release);
    CHECK(moments[1].frame == release_frame);
    const auto situation = from_key<Situation>(at.truth.json["chances"][0]["situation"].get<std::string>());
    REQUIRE(situation);
    const TrueDecision at_pass{pass, *situation, NextAction::pass};
    const TrueDecision at_release{release, *situation, NextAction::shot};
    compare_passes(moments[0], at_pass);
    compare_passes(moments[1], at_release);
    CHECK(moments[0].verdict == at_pass.decision.verdict);
    CHECK(moments[1].verdict == at_release.decision.verdict);

    CHECK(facts[0].moment_id == moments[1].id);
    CHECK(facts[0].verdict == at_release.decision.verdict);
    REQUIRE(facts[0].advised_depth_m);
    CHECK(*facts[0].advised_depth_m == doctest::Approx(moments[1].advice->depth_m));
    REQUIRE(facts[0].least_margin_s);
    const auto least = std::ranges::min_element(at_release.decision.threats, {}, &ThreatReading::margin_s);
    CHECK(std::abs(*facts[0].least_margin_s - least->margin_s) < 0.05);
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

TEST_CASE("a scorer's list typed on the games page comes in, is found, filled in from the list, and undone") {
    const Place place;
    REQUIRE(std::system(fmt::format("'{}' demo '{}' --short >/dev/null", ROPELINE_PROGRAM,
                                    (place.path / "demo").string())
                            .c_str()) == 0);
    const auto season = place.path / "demo" / "demo.season";
    const auto list = place.path / "home" / "list.csv";
    std::ofstream(list, std::ios::binary) << "film time;outcome;note\r\n"
                                             "0:01,5;goal;\"he said \"\"pass\"\"; <b>twice</b>\"\r\n"
                                             "0:02;woosh;\r\n"
                                             "0:03;wide;\r\n";
    const auto noted = [](const std::filesystem::path& path) {
        std::vector<ShotFact> facts;
        try {
            facts = SeasonFile::open_to_read(path).shot_facts();
        } catch (const SeasonError&) {
        }
        std::erase_if(
            facts, [](const ShotFact& fact) { return fact.note.find("<b>twice</b>") == std::string::npos; });
        return facts;
    };
    const VirtualDisplay display;
    DeskWindow desk{display, place.path / "home", "'" + season.string() + "'"};
    desk.settle();
    const std::size_t before = SeasonFile::open_to_read(season).shot_facts().size();
    desk.key("o");
    desk.key("Tab Tab Tab Tab"); // past date and teams to the field of films and lists
    desk.type(list.string());
    desk.key("Return");
    desk.settle();
    desk.key("Return");
    desk.settle();
    CHECK(SeasonFile::open_to_read(season).shot_facts().size() == before + 2);
    REQUIRE(noted(season).size() == 1);
    CHECK(noted(season)[0].film_s == doctest::Approx(1.5).epsilon(0.03));
    CHECK(noted(season)[0].outcome == Outcome::goal);

    // Found by words, then its outcome is changed on the whole page with the keys alone.
    desk.key("ctrl+f");
    desk.type("goal open");
    desk.key("Down Return e Tab Tab Tab Tab 4");
    desk.settle();
    const auto changed = noted(season);
    REQUIRE(changed.size() == 1);
    CHECK(changed[0].outcome == Outcome::post);
    desk.key("ctrl+z ctrl+z");
    desk.settle();
    CHECK(SeasonFile::open_to_read(season).shot_facts().size() == before);
    CHECK(desk.running());
}
