// The summary against questions an analyst would ask the file with the sqlite3 program.
#include "season/derive.h"
#include "season/printed.h"
#include "season/sample.h"
#include "sheet/csv.h"
#include "sheet/shot_words.h"
#include "sheet/summary.h"
#include "tally/filter.h"

#include <doctest/doctest.h>
#include <fmt/core.h>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <cstdio>
#include <sstream>

namespace ropeline {
namespace {

using sample::Folder;

/// What `sqlite3 SEASON SQL` prints, fields parted by |.
std::vector<std::vector<std::string>> sqlite3_says(const std::filesystem::path& season,
                                                   const std::string& sql) {
    const std::string command = fmt::format("sqlite3 -readonly '{}' \"{}\"", season.string(), sql);
    std::FILE* pipe = ::popen(command.c_str(), "r");
    REQUIRE(pipe);
    std::string text;
    for (int c = std::fgetc(pipe); c != EOF; c = std::fgetc(pipe))
        text += static_cast<char>(c);
    REQUIRE(::pclose(pipe) == 0);
    std::vector<std::vector<std::string>> rows;
    std::istringstream lines{text};
    for (std::string line; std::getline(lines, line);) {
        rows.emplace_back();
        line += '|';
        for (std::size_t from = 0, to = 0; (to = line.find('|', from)) != std::string::npos; from = to + 1)
            rows.back().push_back(line.substr(from, to - from));
    }
    return rows;
}

/// Two goalies, 180 shots: every outcome and band, some without a depth, an outcome or a goalie.
void make(const std::filesystem::path& path) {
    SeasonFile file = SeasonFile::create(path, sample::season("Winter 2026"));
    sample::Ids ids = sample::fill(file);
    Goalie second{{}, ids.team, "Bo \"Net\" O'Dell, jr", "right"};
    file.put(second);
    const Id first = ids.goalie;
    file.change("season", [&] {
        for (int i = 0; i < 180; ++i) {
            ids.goalie = i % 17 == 0 ? "" : i % 3 == 0 ? second.id : first;
            Shot shot = sample::shot(ids, i, static_cast<Outcome>((i * i + i / 5) % 7));
            if (i % 13 == 0) shot.outcome.reset();
            file.put(shot);
            if (i % 11 == 0) continue;
            Moment moment = sample::moment(shot.id, ids, 0.2 + 0.015 * i);
            moment.marks.push_back({{}, MarkKind::threat, std::nullopt, IcePoint{-4.0, 6.0}, std::nullopt});
            if (i % 7 == 0) moment.overruled = i % 2 ? Verdict::beaten_across : Verdict::right_depth;
            if (i % 5 == 0) {
                Moment pass = moment;
                pass.kind = MomentKind::pass;
                moment.ordinal = 1;
                file.put(pass);
            }
            file.put(moment);
        }
        recompute(file);
    });
}

} // namespace

TEST_CASE("the summary equals a hand query through sqlite3") {
    const Folder folder;
    const auto path = folder / "a.season";
    make(path);
    const SeasonFile file = SeasonFile::open_to_read(path);
    const auto summary = nlohmann::json::parse(summary_json(file.season(), file.shot_facts()));
    int compared = 0;
    for (const auto& goalie : summary["goalies"]) {
        const std::string where =
            goalie["goalie_id"].is_null()
                ? "goalie_id IS NULL"
                : fmt::format("goalie_id = '{}'", goalie["goalie_id"].get<std::string>());
        auto rows = goalie["bands"];
        rows.push_back(goalie["total"]);
        for (const auto& row : rows) {
            const std::string band = !row.contains("band") ? "1"
                                     : row["band"].is_null()
                                         ? "band IS NULL"
                                         : fmt::format("band = '{}'", row["band"].get<std::string>());
            const auto hand = sqlite3_says(
                path,
                fmt::format(
                    "SELECT count(*), count(*) FILTER (WHERE outcome <> 'no_shot'), coalesce(sum(on_goal), "
                    "0), coalesce(sum(saved), 0), count(*) FILTER (WHERE outcome = 'goal'), avg(saved) "
                    "FILTER (WHERE on_goal) FROM shot_facts WHERE {} AND {}",
                    where, band));
            REQUIRE(hand.size() == 1);
            CHECK(row["logged"] == std::stoi(hand[0][0]));
            CHECK(row["shots"] == std::stoi(hand[0][1]));
            CHECK(row["on_goal"] == std::stoi(hand[0][2]));
            CHECK(row["saves"] == std::stoi(hand[0][3]));
            CHECK(row["goals"] == std::stoi(hand[0][4]));
            CHECK(row["save_percentage"].is_null() == hand[0][5].empty());
            if (!hand[0][5].empty())
                CHECK(std::abs(row["save_percentage"].get<double>() - std::stod(hand[0][5])) < 1e-12);
            ++compared;
        }
    }
    CHECK(compared == 3 * 6);
    CHECK(sqlite3_says(path, "SELECT count(DISTINCT band) FROM shot_facts")[0][0] == "4");
}

TEST_CASE("verdicts are counted as a hand query counts them: the model's, and after review") {
    const Folder folder;
    const auto path = folder / "a.season";
    make(path);
    const SeasonFile file = SeasonFile::open_to_read(path);
    const auto summary = nlohmann::json::parse(summary_json(file.season(), file.shot_facts()));
    const std::string decisions =
        "(SELECT goalie_id, verdict, final_verdict, overruled FROM shot_facts UNION ALL SELECT "
        "goalie_id, pass_verdict, pass_final_verdict, pass_overruled FROM shot_facts)";
    int counted = 0, overruled = 0;
    for (const auto& goalie : summary["goalies"]) {
        const std::string where =
            goalie["goalie_id"].is_null()
                ? "goalie_id IS NULL"
                : fmt::format("goalie_id = '{}'", goalie["goalie_id"].get<std::string>());
        for (const char* column : {"verdict", "final_verdict"}) {
            const auto& counts = goalie["verdicts"][column[0] == 'v' ? "model" : "reviewed"];
            for (const auto& [word, count] : counts.items()) {
                const auto rows =
                    sqlite3_says(path, fmt::format("SELECT count(*) FROM {} WHERE {} AND {} = '{}'",
                                                   decisions, where, column, word));
                CHECK(std::to_string(count.get<int>()) == rows[0][0]);
                counted += count.get<int>();
            }
        }
        const auto rows = sqlite3_says(
            path, fmt::format("SELECT count(*) FROM {} WHERE {} AND overruled <> verdict", decisions, where));
        CHECK(std::to_string(goalie["verdicts"]["overruled"].get<int>()) == rows[0][0]);
        overruled += goalie["verdicts"]["overruled"].get<int>();
    }
    CHECK(counted > 300);
    CHECK(overruled > 10);
    const std::string csv = verdicts_csv(band_tables(file.shot_facts()));
    CHECK(std::count(csv.begin(), csv.end(), '\n') == 1 + 8 * 3);
    CHECK(csv.starts_with("goalie_id,goalie,team,verdict,model_count,reviewed_count\r\n"));
}

TEST_CASE("the goalie's calls are counted as a hand query counts them, in words no verdict has") {
    const Folder folder;
    const auto path = folder / "a.season";
    make(path);
    const SeasonFile file = SeasonFile::open_to_read(path);
    const auto summary = nlohmann::json::parse(summary_json(file.season(), file.shot_facts()));
    int misread = 0;
    for (const auto& goalie : summary["goalies"])
        misread += goalie["calls"]["misread_it"].get<int>();
    CHECK(sqlite3_says(path,
                       "SELECT count(*) FROM shot_facts WHERE read IN ('shot', 'pass') AND came IN ('shot', "
                       "'pass') AND read <> came")[0][0] == std::to_string(misread));
    const std::string text = summary_text(file.season(), file.shot_facts());
    CHECK(text.find("  calls: 0 read it, ") !=
          std::string::npos); // the sample's goalie plays the shot, a pass comes
    for (int verdict = 0; verdict < 8; ++verdict)
        CHECK(std::string{label_of(static_cast<Verdict>(verdict))}.find("read") == std::string::npos);
}

TEST_CASE(
    "what the program says of shots that are only counted is what their facts say, whatever it is asked") {
    const Folder folder;
    make(folder / "a.season");
    const SeasonFile file = SeasonFile::open_to_read(folder / "a.season");
    const auto facts = file.shot_facts();
    const std::string goalie = facts.back().goalie, date = facts.back().game_date;
    const std::vector<std::pair<std::string, FactFilter>> asked{
        {"", {}},
        {"--goalie '" + goalie + "'", {.goalie = goalie}},
        {"--from " + date, {.from = date}},
        {"--to " + date + " --came pass", {.to = date, .came = NextAction::pass}},
        {"--situation rush", {.situation = Situation::rush}},
        {"--from 2031-01-01", {.from = "2031-01-01"}}};
    for (const auto& [arguments, filter] : asked) {
        CAPTURE(arguments);
        CHECK(sample::ropeline(folder, "summary a.season " + arguments).out ==
              summary_text(file.season(), filtered(facts, filter), filter_words(filter)));
    }
    CHECK(sample::ropeline(folder, "summary a.season --goalie Nobody").err.find(goalie) != std::string::npos);
}

TEST_CASE("shots.csv equals shot_facts as sqlite3 prints it") {
    const Folder folder;
    const auto path = folder / "a.season";
    make(path);
    const SeasonFile file = SeasonFile::open_to_read(path);
    std::istringstream csv{shots_csv(file.shot_facts())};
    std::string header;
    std::getline(csv, header);
    header.pop_back(); // the return of RFC 4180's line end
    // As many rows and the same columns in the same order as the view has.
    const auto columns =
        sqlite3_says(path, "SELECT group_concat(name, ',') FROM pragma_table_info('shot_facts')");
    CHECK(header == columns[0][0]);
    const auto rows = sqlite3_says(
        path, "SELECT shot_id, depth_m, off_angle_m, puck_y_m, on_goal, outcome FROM shot_facts ORDER "
              "BY game_date, game_id, film_id, frame, shot_id");
    const auto facts = file.shot_facts();
    REQUIRE(rows.size() == facts.size());
    for (std::size_t i = 0; i < rows.size(); ++i) {
        std::string line;
        std::getline(csv, line);
        CHECK(line.starts_with(rows[i][0] + ","));
        const auto same = [](const std::optional<double>& ours, const std::string& theirs) {
            // sqlite3 prints 15 digits.
            return ours ? std::abs(*ours - std::stod(theirs)) <= 1e-14 * std::abs(*ours) : theirs.empty();
        };
        CHECK(same(facts[i].depth_m, rows[i][1]));
        CHECK(same(facts[i].off_angle_m, rows[i][2]));
        CHECK(same(facts[i].puck_at ? std::optional{facts[i].puck_at->y_m} : std::nullopt, rows[i][3]));
        CHECK((facts[i].outcome ? std::to_string(is_shot_on_goal(*facts[i].outcome)) : "") == rows[i][4]);
    }
}

TEST_CASE("the text shows the same figures in columns that line up") {
    Season season = sample::season("Winter\x1b[31m");
    season.parameters = parameters_for(season.level);
    std::vector<ShotFact> facts(300);
    for (std::size_t i = 0; i < facts.size(); ++i) {
        facts[i].goalie_id = "x";
        facts[i].goalie = "Ilse Tamm";
        facts[i].team = "Saltmarsh Herons";
        facts[i].game_id = i < 100 ? "one" : "two";
        facts[i].band = i < 250 ? std::optional{Band::base} : std::nullopt;
        facts[i].outcome = i < 27 ? Outcome::goal : Outcome::save_held;
    }
    const std::string text = summary_text(season, facts);
    CHECK(text.find('\x1b') == std::string::npos);
    CHECK(text.find("300 logged in 2 games") != std::string::npos);
    CHECK(text.find("Ilse Tamm, Saltmarsh Herons") != std::string::npos);
    // 27/300 goals -> interval of the saves 0.872223 0.937410 (1 minus Wilson's 0.127777 0.062590, R
    // prop.test).
    CHECK(text.find("  total             300     300       300      27     .910   .872 to .937\n") !=
          std::string::npos);
    CHECK(text.find("  no depth           50      50        50       0    1.000   .929 to 1.000\n") !=
          std::string::npos);
    CHECK(text.find("  defensive           0       0         0       0        -   -\n") != std::string::npos);
    CHECK(summary_text(season, std::span<const ShotFact>{}).find("Nothing is logged yet") !=
          std::string::npos);
    CHECK(nlohmann::json::parse(summary_json(season, {}))["goalies"].empty());
}

TEST_CASE("names that are no UTF-8 do not break the JSON") {
    Season season = sample::season("\xff\xfe");
    std::vector<ShotFact> facts(1);
    facts[0].goalie_id = "x";
    facts[0].goalie = "\xc3";
    CHECK_NOTHROW(nlohmann::json::parse(summary_json(season, facts)));
}

} // namespace ropeline
