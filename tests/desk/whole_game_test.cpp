// A whole game logged from an empty folder by the desk's own ways: the likely chances, the speed, the rink found again,
// marks that were followed. What it costs a coach's hands, and whether the season file then holds what the film shows.
#include "chances/made_game.h"
#include "demo/truth.h"
#include "desk/hands.h"
#include "desk/hidden_window.h"
#include "desk/made_home.h"
#include "desk/state/rink_here.h"
#include "rink/landmarks.h"
#include "season/season_file.h"

#include <doctest/doctest.h>
#include <fmt/core.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <set>
#include <thread>

using namespace ropeline;

namespace {

constexpr double watched_at = 4.0;    ///< the tempo
constexpr double seen_around_s = 3.0; ///< of a likely chance, to either side

/// The pass, the goalie at rest before it: a second earlier.
constexpr int moments_apart_s = 1;

struct Coach {
    App& app;
    const MadeGame& game;
    int rate_hz;
    test::Hands hands{app};
    std::set<std::size_t> logged{};
    int fitted = 0, marks_seen = 0, found_again = 0, taken_faintly = 0;

    ImagePoint seen(IcePoint at) const {
        return demo::picture_of(game.camera(static_cast<int>(hands.frame())), at);
    }
    const demo::GoaliePose& goalie() const { return game.instant(static_cast<int>(hands.frame())).goalie; }
    const LogState& log() const { return app.log.state(); }
    bool rink_known() const { return fit_here(log(), hands.frame()).fit.has_value(); }

    /// The form of the start page.
    void begin(const std::string& film) {
        hands.settle();
        hands.think();
        NewSeasonForm& form = app.start.form;
        form.season = "My season"; // as the start page proposes them
        form.date = "2026-11-27";
        form.path = "~/Ropeline/My season";
        hands.type(form.goalie, "Ilse Varga");
        hands.key("Tab");
        hands.type(form.team, "Harbour Pike");
        hands.key("Tab");
        hands.type(form.opponent, "Mill Town Otters");
        hands.key("Tab");
        hands.type(form.film, film);
        hands.key("Return");
        for (int waited = 0; waited < 6000 && !frames_of(app.stage); ++waited) {
            hands.settle();
            std::this_thread::sleep_for(std::chrono::milliseconds(10));
        }
        REQUIRE(frames_of(app.stage));
        while (app.stage.chances.wanted && !app.stage.chances.found.whole) {
            hands.settle();
            std::this_thread::sleep_for(std::chrono::milliseconds(10));
        }
    }

    bool is_clear(ImagePoint at) const {
        const ImageSize size = app.stage.view.shown;
        return at.x_px > 4.0 && at.y_px > 4.0 && at.x_px < size.width_px - 4.0 &&
               at.y_px < size.height_px - 4.0;
    }

    void fit_rink() {
        ++fitted;
        hands.think();
        hands.key("F");
        const std::size_t wanted = fitted == 1 ? 9 : 5;
        for (int passed = 0; passed < 20;) {
            const FitDraft* draft = log().selection.fit();
            REQUIRE(draft);
            if (draft->clicks.size() >= wanted || draft->offered.empty()) break;
            const auto landmark = find_landmark(rule_book(draft->rules), draft->offered);
            const ImagePoint at = landmark ? seen(landmark->at) : ImagePoint{};
            if (landmark && is_clear(at)) {
                hands.click(at);
            } else {
                hands.key("X");
                ++passed;
            }
        }
        hands.key("Return");
        REQUIRE_FALSE(log().selection.fit());
        for (int waited = 0; waited < 3000 && app.stage.carry; ++waited) {
            hands.settle();
            std::this_thread::sleep_for(std::chrono::milliseconds(20));
        }
    }

    /// Both skates: those offered faintly where they lie right, else two clicks.
    void mark_skates() {
        const auto near = [&](MarkKind kind, IcePoint at) {
            const auto offered = std::ranges::find(app.log.view.asked, kind, &Ghost::kind);
            if (offered == app.log.view.asked.end()) return false;
            const auto& rink = app.log.view.here.fit;
            const auto there = rink ? ice_at(*rink, offered->at) : std::nullopt;
            return there && distance(*there, at) <= 0.15;
        };
        if (near(MarkKind::skate_left, goalie().skates[0]) &&
            near(MarkKind::skate_right, goalie().skates[1])) {
            ++taken_faintly;
            hands.think();
            hands.key("E");
            return;
        }
        for (const IcePoint skate : goalie().skates)
            hands.click(seen(skate));
    }

    void mark_moment() {
        mark_skates();
        hands.click(seen(demo::shadow_of(game.instant(static_cast<int>(hands.frame())).puck)));
    }

    void log_chance(std::size_t chance) {
        hands.step_to(std::lround(game.truth().chances_s[chance] * rate_hz));
        if (!rink_known()) {
            fit_rink();
        } else if (fit_here(log(), hands.frame()).source == FitHere::Source::carried) {
            ++found_again;
        }
        hands.think();
        hands.key("N");
        mark_moment();
        hands.think();
        for (const char* number : {"1", "1", "2", "1", "3"})
            hands.key(number);
        if (chance % 3 == 0) { // the moment before it too
            hands.step_to(hands.frame() - moments_apart_s * rate_hz);
            if (rink_known()) {
                hands.key("A");
                mark_moment();
            }
        }
        hands.key("Return");
        logged.insert(chance);
    }

    /// The chance that is not logged yet within three seconds of here.
    std::optional<std::size_t> chance_here() const {
        const auto& all = game.truth().chances_s;
        const double now_s = static_cast<double>(hands.frame()) / rate_hz;
        for (std::size_t chance = 0; chance < all.size(); ++chance) {
            if (!logged.contains(chance) && std::abs(all[chance] - now_s) <= seen_around_s) return chance;
        }
        return std::nullopt;
    }

    void walk_likely_chances() {
        hands.key("Shift+T");
        hands.key("Shift+T"); // 4x
        for (double last_s = -1.0;;) {
            hands.key("PageDown");
            const double now_s = static_cast<double>(hands.frame()) / rate_hz;
            if (now_s <= last_s) break;
            last_s = now_s;
            ++marks_seen;
            hands.think();
            hands.watch(2.0 * seen_around_s, watched_at);
            const std::int64_t mark = hands.frame();
            while (const auto chance = chance_here()) {
                log_chance(*chance);
                hands.step_to(mark);
            }
        }
    }

    /// Those that no mark led to, found by watching what was not seen yet.
    void log_the_others() {
        const double length_s = static_cast<double>(game.frames()) / rate_hz;
        hands.watch(std::max(0.0, length_s - 2.0 * seen_around_s * marks_seen), watched_at);
        for (std::size_t chance = 0; chance < game.truth().chances_s.size(); ++chance) {
            if (logged.contains(chance)) continue;
            hands.click_ribbon(std::lround((game.truth().chances_s[chance] - 1.0) * rate_hz));
            log_chance(chance);
        }
    }
};

/// What the season file holds against what the film shows.
void compare(const std::filesystem::path& season, const Coach& coach) {
    const SeasonFile file = SeasonFile::open_to_read(season);
    auto facts = file.shot_facts();
    const auto& all = coach.game.truth().chances_s;
    REQUIRE(facts.size() == all.size());
    std::ranges::sort(facts, {}, &ShotFact::frame);
    std::vector<double> off_m;
    for (std::size_t chance = 0; chance < all.size(); ++chance) {
        const auto frame = std::lround(all[chance] * coach.rate_hz);
        CHECK(facts[chance].frame == frame);
        if (!facts[chance].goalie_at) continue;
        const auto& skates = coach.game.instant(static_cast<int>(frame)).goalie.skates;
        off_m.push_back(distance(*facts[chance].goalie_at, skates[0] + (skates[1] - skates[0]) * 0.5));
    }
    REQUIRE(off_m.size() == all.size());
    std::ranges::sort(off_m);
    fmt::print("goalie off the truth: median {:.2f} m, worst {:.2f} m\n", off_m[off_m.size() / 2],
               off_m.back());
    CHECK(off_m[off_m.size() / 2] <= 0.15);
}

} // namespace

TEST_CASE("a game of twenty minutes is logged from an empty folder by keys and clicks in less than fifteen") {
    const bool whole = std::getenv("ROPELINE_LONG_TESTS") != nullptr;
    const GameWanted wanted = whole ? GameWanted{.seed = 301, .rate_hz = 10}
                                    : GameWanted{.seed = 6, .length_s = 40.0, .chances = 1, .rate_hz = 10};
    const test::HiddenWindow window;
    const test::Home home;
    const MadeGame game(wanted);
    const char* ready = std::getenv("ROPELINE_GAME"); // the same film, rendered before
    const std::string film = ready ? ready : (home.folder.path / "game.mp4").string();
    if (!ready) game.write(film);
    std::filesystem::path season;
    {
        App app;
        Coach coach{app, game, wanted.rate_hz};
        coach.begin(film);
        season = app.log.book->file().path();
        coach.walk_likely_chances();
        const double by_marks_s = coach.hands.hands_s() + coach.hands.watched_s();
        const std::size_t by_marks = coach.logged.size();
        coach.log_the_others();
        const double all_s = coach.hands.hands_s() + coach.hands.watched_s();
        fmt::print(
            "{} chances in {:.0f} minutes of film: {} inputs, hands {:.1f} min, film watched {:.1f} min, "
            "together {:.1f} min\n",
            coach.logged.size(), wanted.length_s / 60.0, coach.hands.inputs(), coach.hands.hands_s() / 60.0,
            coach.hands.watched_s() / 60.0, all_s / 60.0);
        fmt::print(
            "by likely chances alone: {} of them, {} marks seen, {:.1f} min; rink fitted {} times, known "
            "without a click {} times, skates taken from faint marks {} times\n",
            by_marks, coach.marks_seen, by_marks_s / 60.0, coach.fitted, coach.found_again,
            coach.taken_faintly);
        CHECK(all_s <=
              0.75 * wanted.length_s + (whole ? 0.0 : 60.0)); // the first fit weighs more in a short one
        compare(season, coach);
        app.stage.let_go.clear();
    }
}
