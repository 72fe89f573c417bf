#include "bench/made_season.h"

#include "bench/copied_rows.h"
#include "demo/dice.h"
#include "demo/season_shots.h"
#include "season/counted_rows.h"
#include "season/derive.h"
#include "season/season_file.h"
#include "season/take_indexes.h"

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <map>

namespace ropeline {
namespace {

constexpr std::size_t dealt_plays = 160;
constexpr std::int64_t shots_a_game = 25, goalies_a_team = 2, most_goalies = 60, shots_a_goalie = 300;
constexpr std::array<const char*, 10> first_names{"Ada",   "Brent", "Cleo", "Dagny", "Eskil",
                                                  "Femke", "Gus",   "Hana", "Ivo",   "Jutta"};
constexpr std::array<const char*, 6> last_names{"Alderwick", "Birkmoss",   "Calloway",
                                                "Dunnock",   "Embersteen", "Fennimore"};
constexpr std::array<const char*, 3> reviewers{"", "Ruth Palliser", "Milo Trask"};

Moment moment_of(const Id& shot_id, int ordinal, const demo::LoggedMoment& logged) {
    Moment moment;
    moment.shot_id = shot_id;
    moment.ordinal = ordinal;
    moment.kind = logged.kind;
    moment.pts_ticks = std::int64_t{ordinal} * 600;
    moment.marks = demo::marks_of(logged);
    return moment;
}

/// The plays that are dealt out, put into the file once, with their figures; by the shot's id how dangerous each is.
std::map<Id, double> put_plays(SeasonFile& file, std::uint64_t seed) {
    std::map<Id, double> danger;
    Game game{{}, "2026-09-01", {}, {}, RuleBookId::iihf, ""};
    file.change("plays", [&] {
        file.put(game);
        auto invented = demo::invent_shots(rule_book(RuleBookId::iihf), seed);
        invented.resize(std::min(invented.size(), dealt_plays));
        for (const demo::LoggedShot& logged : invented) {
            Shot shot = demo::shot_of(logged);
            shot.game_id = game.id;
            file.put(shot);
            danger.emplace(shot.id, logged.danger);
            for (std::size_t i = 0; i < logged.moments.size(); ++i) {
                Moment moment = moment_of(shot.id, static_cast<int>(i), logged.moments[i]);
                file.put(moment);
            }
        }
        recompute(file);
    });
    file.forget_changes();
    return danger;
}

struct People {
    std::vector<Id> teams, goalies;
};

People put_people(SQLite::Database& db, MadeIds& ids, std::int64_t shots) {
    People people;
    const std::int64_t goalies = std::clamp(shots / shots_a_goalie, std::int64_t{2}, most_goalies);
    CopiedRow team{db, "team", {"id", "name"}}, goalie{db, "goalie", {"id", "team_id", "name", "catches"}};
    for (std::int64_t i = 0; i < goalies; ++i) {
        if (i % goalies_a_team == 0) {
            people.teams.push_back(ids.next());
            team.put({people.teams.back(), fmt::format("Team {}", people.teams.size())});
        }
        people.goalies.push_back(ids.next());
        goalie.put({people.goalies.back(), people.teams.back(),
                    fmt::format("{} {}", first_names[i % 10], last_names[(i / 10) % 6]),
                    i % 7 == 0 ? "right" : "left"});
    }
    return people;
}

std::string day(std::int64_t game) {
    const auto days = game % 200; // one season: from September to March
    static constexpr std::array<int, 7> lengths{30, 31, 30, 31, 31, 28, 31};
    std::int64_t left = days;
    for (std::size_t month = 0; month < lengths.size(); ++month) {
        if (left < lengths[month])
            return fmt::format("{}-{:02}-{:02}", month < 4 ? 2026 : 2027, (month + 8) % 12 + 1, left + 1);
        left -= lengths[month];
    }
    return "2027-03-31";
}

std::string outcome(const std::string& of_play, double danger, double lot) {
    if (of_play != "goal" && of_play != "save_held" && of_play != "save_rebound") return of_play;
    if (lot < danger) return "goal";
    return lot < danger + (1.0 - danger) * 0.6 ? "save_held" : "save_rebound";
}

void deal(SQLite::Database& db, MadeIds& ids, const std::map<Id, double>& danger, std::int64_t shots,
          std::uint64_t seed) {
    const std::vector<PlayRows> plays = rows_of_plays(db);
    demo::Dice dice(seed + 7);
    const People people = put_people(db, ids, shots);
    CopiedRow game{db, "game", {"id", "date", "home_team_id", "away_team_id", "rules"}};
    PlayWriter writer{db, ids};
    Id game_id;
    std::size_t goalie = 0;
    for (std::int64_t i = 0; i < shots; ++i) {
        const std::int64_t in_game = i % shots_a_game;
        if (in_game == 0) {
            goalie = static_cast<std::size_t>(i / shots_a_game) % people.goalies.size();
            const std::size_t home = goalie / static_cast<std::size_t>(goalies_a_team);
            game_id = ids.next();
            game.put({game_id, day(i / shots_a_game), people.teams[home],
                      people.teams[(home + 1) % people.teams.size()], "iihf"});
        }
        const PlayRows& play =
            plays[static_cast<std::size_t>(dice.uniform() * 0.999999 * static_cast<double>(plays.size()))];
        writer.put(play, {game_id, people.goalies[goalie], 1 + in_game * 3 / shots_a_game,
                          1200.0 - 140.0 * static_cast<double>(in_game % 8) - 3.0 * dice.uniform(),
                          outcome(play.outcome, danger.at(play.id), dice.uniform()),
                          reviewers[static_cast<std::size_t>(i) % reviewers.size()]});
    }
}

} // namespace

void make_season(const std::filesystem::path& path, std::int64_t shots, std::uint64_t seed) {
    Season season;
    season.name = fmt::format("{} made shots", shots);
    season.league = "Lowmoor League";
    season.rules = RuleBookId::iihf;
    season.level = Level::senior;
    season.parameters = parameters_for(season.level);
    std::map<Id, double> danger;
    {
        SeasonFile file = SeasonFile::create(path, season);
        danger = put_plays(file, seed);
    }
    SQLite::Database db{path.string(), SQLite::OPEN_READWRITE | SQLite::OPEN_NOMUTEX};
    // The rows that are dealt out passed the CHECKs as plays of the season.
    db.exec("PRAGMA journal_mode = OFF; PRAGMA synchronous = OFF; PRAGMA cache_size = -200000; "
            "PRAGMA ignore_check_constraints = ON; BEGIN");
    const std::vector<std::string> statements = take_indexes_and_triggers(db);
    MadeIds ids{seed};
    deal(db, ids, danger, shots, seed);
    remove_plays(db, danger);
    for (const std::string& sql : statements)
        db.exec(sql);
    count_all_shots(db);
    db.exec("COMMIT; PRAGMA journal_mode = DELETE");
    std::filesystem::remove(path.string() + ".backup");
    std::filesystem::remove(path.string() + ".lock");
}

} // namespace ropeline
