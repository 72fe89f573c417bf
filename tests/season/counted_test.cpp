// What a season keeps of each shot for its summary, against the shot's facts: after changes, undo, work by hand.
#include "season/check_season.h"
#include "season/counted_rows.h"
#include "season/derive.h"
#include "season/sample.h"

#include <doctest/doctest.h>
#include <fmt/core.h>
#include <rapidcheck.h>

#include <algorithm>
#include <array>
#include <fstream>
#include <iostream>
#include <map>
#include <set>

namespace ropeline {
namespace {

using sample::Folder;

bool heads() {
    return *rc::gen::arbitrary<bool>();
}

/// Where a puck or a goalie may be, both edges of a step of the distance among them.
IcePoint some_place() {
    return {1.0 * *rc::gen::inRange(-2, 3), 1.0 * *rc::gen::elementOf(std::vector{1, 3, 6, 8, 12, 13})};
}

std::string words(const CountedPlay& play) {
    const auto code = [](const auto& value) { return value ? static_cast<int>(*value) : -1; };
    std::string text = fmt::format("{} {} {} {} {} {} {} {} {}", code(play.outcome), code(play.came),
                                   play.released, code(play.read), code(play.situation), play.distance_step,
                                   code(play.band), code(play.verdict), code(play.overruled));
    if (play.pass)
        text += fmt::format(", pass {} {} {}", static_cast<int>(play.pass->band), code(play.pass->verdict),
                            code(play.pass->overruled));
    return text;
}

using Times = std::map<std::string, int>; ///< by goalie and play

Times as_counted(const SeasonFile& file, std::string_view from = "") {
    const auto counted = file.counted_shots({[&](std::string_view date) { return date >= from; }, {}});
    Times times;
    for (const auto& row : counted.rows) {
        const CountedGoalie& goalie = counted.goalies[row.goalie];
        times[fmt::format("{} {} {}: {}", goalie.id, goalie.name, goalie.team, words(row.play))] += row.times;
    }
    times["shots"] = counted.shots;
    times["games"] = counted.games;
    return times;
}

Times by_facts(const SeasonFile& file, std::string_view from = "") {
    Times times{{"shots", 0}};
    std::set<Id> games;
    for (const ShotFact& fact : file.shot_facts()) {
        if (fact.game_date < from) continue;
        ++times[fmt::format("{} {} {}: {}", fact.goalie_id, fact.goalie, fact.team,
                            words(counted_play(fact)))];
        ++times["shots"];
        games.insert(fact.game_id);
    }
    times["games"] = static_cast<int>(games.size());
    return times;
}

bool nothing_is_left_to_count(const std::filesystem::path& path) {
    SQLite::Database db{path.string(), SQLite::OPEN_READONLY};
    return !has_shots_to_count(db) && shots_counted_wrongly(db) == 0;
}

void put_some_play(SeasonFile& file, const sample::Ids& ids) {
    Shot shot = sample::shot(ids, *rc::gen::inRange(0, 300));
    if (heads()) shot.goalie_id.clear();
    shot.outcome = static_cast<Outcome>(*rc::gen::inRange(0, 7));
    if (heads()) shot.outcome.reset();
    shot.came = heads() ? std::optional<NextAction>{} : static_cast<NextAction>(*rc::gen::inRange(0, 4));
    if (heads()) shot.situation = static_cast<Situation>(*rc::gen::inRange(0, 6));
    shot.details.set(Detail::released, *rc::gen::inRange(0, 3));
    file.put(shot);
    for (int i = *rc::gen::inRange(0, 3); i > 0; --i) {
        Moment moment = sample::moment(shot.id, ids);
        moment.kind = heads() ? MomentKind::pass : MomentKind::release;
        moment.ordinal = 3 - i;
        for (Mark& mark : moment.marks) {
            mark.at.reset();
            mark.ice = some_place();
            if (*rc::gen::inRange(0, 6) == 0) mark.ice.reset();
        }
        if (heads()) moment.overruled = Verdict::sat_back;
        file.put(moment);
    }
}

void change_some_moment(SeasonFile& file, const Id& shot_id) {
    auto moments = file.moments(shot_id);
    if (moments.empty()) return;
    Moment& moment = moments.front();
    switch (*rc::gen::inRange(0, 4)) {
    case 0:
        return file.remove_moment(moment.id);
    case 1:
        moment.overruled = Verdict::off_angle;
        break;
    case 2:
        std::erase_if(moment.marks, [](const Mark& mark) { return mark.kind == MarkKind::puck; });
        break;
    default:
        for (Mark& mark : moment.marks)
            mark.ice = some_place();
    }
    file.put(moment);
}

/// One thing done at the desk.
void act(SeasonFile& file, const sample::Ids& ids) {
    const auto shots = file.shots(ids.game);
    const int what = *rc::gen::inRange(0, 8);
    if (shots.empty() || what == 0) return put_some_play(file, ids);
    Shot shot = shots[*rc::gen::inRange(std::size_t{0}, shots.size())];
    switch (what) {
    case 1:
        shot.outcome = Outcome::goal;
        shot.read = Read::pass;
        return file.put(shot);
    case 2:
        return file.remove_shot(shot.id);
    case 3:
        return change_some_moment(file, shot.id);
    case 4:
        file.undo();
        return;
    case 5:
        file.redo();
        return;
    case 6: {
        Parameters parameters = file.season().parameters;
        parameters.base_half_width_m = heads() ? 0.1 : 0.6;
        set_parameters(file, Level::junior, parameters);
        return;
    }
    default:
        recompute(file);
    }
}

constexpr std::array by_hand = {
    "UPDATE shot SET outcome = 'post', situation = 'rush'",
    "UPDATE mark SET ice_x_m = 0.0, ice_y_m = 12.0 WHERE kind = 'puck' AND ice_x_m IS NOT NULL",
    "UPDATE mark SET kind = 'skate_left' WHERE kind = 'puck'",
    "DELETE FROM mark WHERE kind = 'puck'",
    "DELETE FROM moment WHERE kind = 'pass'",
    "UPDATE moment SET kind = 'pass', overruled = 'off_angle'",
    "UPDATE moment SET shot_id = (SELECT min(id) FROM shot)",
    "DELETE FROM shot WHERE outcome = 'goal'",
    "PRAGMA foreign_keys = ON; DELETE FROM shot WHERE outcome = 'goal' OR rowid % 2 = 0",
    "UPDATE game SET date = '2025-01-01'",
    "UPDATE goalie SET name = 'Another', team_id = NULL"};

void make_season(const std::filesystem::path& path, int shots) {
    SeasonFile file = SeasonFile::create(path, sample::season());
    const sample::Ids ids = sample::fill(file);
    for (int i = 0; i < shots; ++i) {
        Shot shot = sample::shot(ids, 40 + i);
        file.put(shot);
    }
}

} // namespace

TEST_CASE("what is kept of each shot is what its facts say, after any change, undo and work by hand") {
    const auto round = [] {
        const Folder folder;
        const auto path = folder / "a.season";
        sample::Ids ids;
        {
            SeasonFile file = SeasonFile::create(path, sample::season());
            ids = sample::fill(file);
            for (int i = *rc::gen::inRange(1, 12); i > 0; --i) {
                act(file, ids);
                const bool same = as_counted(file) == by_facts(file);
                RC_ASSERT(same);
                const bool counted = nothing_is_left_to_count(path);
                RC_ASSERT(counted);
            }
        }
        for (int i = 0; i < 4; ++i) {
            const auto number = *rc::gen::inRange(std::size_t{0}, by_hand.size());
            RC_LOG() << by_hand.at(number) << '\n';
            sample::run(path, by_hand.at(number));
            const Times facts = by_facts(SeasonFile::open_to_read(path));
            const bool at_once = as_counted(SeasonFile::open_to_count(path)) == facts;
            RC_ASSERT(at_once);
            SeasonFile::open(path);
            const bool later = as_counted(SeasonFile::open_to_count(path)) == facts;
            RC_ASSERT(later);
            const bool counted = nothing_is_left_to_count(path);
            RC_ASSERT(counted);
        }
    };
    rc::detail::TestParams rounds = rc::detail::configuration().testParams;
    rounds.maxSuccess = std::getenv("ROPELINE_LONG_TESTS") ? 500 : 24 / sample::fewer;
    const auto result = rc::detail::checkTestable(round, rc::detail::TestMetadata{}, rounds);
    const bool holds = result.is<rc::detail::SuccessResult>();
    if (!holds) rc::detail::printResultMessage(result, std::cerr);
    CHECK(holds);
}

TEST_CASE("shots are counted of the days that are asked for, and games that have one") {
    const Folder folder;
    SeasonFile file = SeasonFile::create(folder / "a.season", sample::season());
    sample::Ids ids = sample::fill(file);
    Shot first = sample::shot(ids, 40);
    file.put(first);
    Game later{{}, "2027-02-03", ids.team, {}, RuleBookId::iihf, ""};
    file.put(later);
    Shot second = sample::shot(ids, 50, Outcome::goal);
    second.game_id = later.id;
    file.put(second);
    CHECK(as_counted(file) == by_facts(file));
    CHECK(as_counted(file, "2027-01-01") == by_facts(file, "2027-01-01"));
    CHECK(as_counted(file, "2027-01-01").at("shots") == 1);
    const auto goals = file.counted_shots(
        {{}, [](const CountedGoalie&, const CountedPlay& play) { return play.outcome == Outcome::goal; }});
    CHECK(goals.shots == 1);
    CHECK(goals.games == 1);
    file.change("inside a change", [&] {
        file.remove_shot(first.id);
        CHECK(as_counted(file) == by_facts(file));
    });
}

TEST_CASE("a shot that is kept otherwise than its facts say is found, and counted anew by a repair") {
    const Folder folder;
    const auto path = folder / "a.season";
    make_season(path, 3);
    const auto found = [&] {
        const auto lines = check_season(path);
        return std::ranges::count_if(lines, [](const CheckLine& line) {
            return !line.fine && line.text.find("counted shots: 1 ") != std::string::npos;
        });
    };
    CHECK(found() == 0);
    SUBCASE("changed") {
        sample::run(path, "UPDATE counted_shot SET counts_as = replace(counts_as, 'save_held', 'goal') "
                          "WHERE shot_id = (SELECT min(shot_id) FROM counted_shot)");
    }
    SUBCASE("missing") {
        sample::run(path, "DELETE FROM counted_shot WHERE shot_id = (SELECT min(shot_id) FROM counted_shot)");
    }
    SUBCASE("of no shot") {
        sample::run(path,
                    "INSERT INTO counted_shot SELECT upper(shot_id) || '', game_id, goalie_id, counts_as "
                    "FROM counted_shot WHERE upper(shot_id) <> shot_id LIMIT 1");
    }
    CHECK(found() == 1);
    CHECK(repair_season(path).find("are counted anew: 1") != std::string::npos);
    CHECK(found() == 0);
    CHECK(nothing_is_left_to_count(path));
    CHECK(repair_season(path).find("nothing to repair") != std::string::npos);
}

TEST_CASE("of a large file only what counting looks at must be sound, and that must be") {
    const Folder folder;
    const auto path = folder / "a.season";
    make_season(path, 3);
    sample::run(path,
                "CREATE TABLE makes_it_large (bytes); INSERT INTO makes_it_large VALUES (zeroblob(2000000))");
    const auto spoil = [&](const std::string& table) {
        const auto page = std::stoll(
            sample::value(path, "SELECT rootpage FROM sqlite_schema WHERE name = '" + table + "'"));
        const auto bytes = std::stoll(sample::value(path, "PRAGMA page_size"));
        std::fstream file{path, std::ios::binary | std::ios::in | std::ios::out};
        file.seekp((page - 1) * bytes);
        file << std::string(100, '\xee');
    };
    const auto fault_of_counting = [&]() -> std::optional<SeasonFault> {
        try {
            SeasonFile::open_to_count(path).counted_shots();
            return std::nullopt;
        } catch (const SeasonError& error) {
            return error.fault;
        }
    };
    CHECK_FALSE(fault_of_counting());
    SUBCASE("marks") {
        spoil("mark");
        CHECK_FALSE(fault_of_counting());
        CHECK(sample::refusal_of([&] { SeasonFile::open_to_read(path); }).fault == SeasonFault::damaged);
    }
    SUBCASE("marks, and a shot that is to be counted from them") {
        sample::run(path, "UPDATE shot SET outcome = 'goal'");
        spoil("mark");
        CHECK(fault_of_counting() == SeasonFault::damaged);
    }
    SUBCASE("what is counted") {
        spoil("counted_shot");
        CHECK(fault_of_counting() == SeasonFault::damaged);
    }
}

TEST_CASE("what no shot counts as is told as damage") {
    const Folder folder;
    const auto path = folder / "a.season";
    make_season(path, 1);
    for (const char* words :
         {"robbed - - - - - - - - - - -", "goal - - - - - - - - - - - -", "goal - - - - 3 - - - - - -",
          "goal - sideways - - - - - - - - -", "goal  - - - - - - - - - - "}) {
        CAPTURE(words);
        sample::run(path, fmt::format("UPDATE counted_shot SET counts_as = '{}'", words));
        const auto refusal = sample::refusal_of([&] { SeasonFile::open_to_count(path).counted_shots(); });
        CHECK(refusal.fault == SeasonFault::damaged);
    }
}

} // namespace ropeline
