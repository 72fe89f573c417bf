#include "season/sample.h"

#include "season/derive.h"

#include <doctest/doctest.h>

#include <sys/wait.h>
#include <unistd.h>

#include <cstdlib>

namespace ropeline::sample {

Folder::Folder() {
    const std::filesystem::path memory =
        "/dev/shm"; // many small changes: a disk would make each wait for its platter
    const auto parent =
        std::filesystem::is_directory(memory) ? memory : std::filesystem::temp_directory_path();
    std::string name = (parent / "ropeline-test-XXXXXX").string();
    path = std::filesystem::canonical(::mkdtemp(name.data()));
}

Folder::~Folder() {
    std::error_code ignored;
    std::filesystem::remove_all(path, ignored);
}

Season season(const std::string& name) {
    Season season;
    season.name = name;
    season.league = "Harbour League";
    season.rules = RuleBookId::iihf;
    season.level = Level::junior;
    season.parameters = parameters_for(season.level);
    return season;
}

Ids fill(SeasonFile& file) {
    Ids ids;
    Team home{{}, "Saltmarsh Herons"};
    Team away{{}, "Quarry Lamps"};
    file.put(home);
    file.put(away);
    Goalie goalie{{}, home.id, "Ilse Tamm", "left"};
    file.put(goalie);
    Game game{{}, "2026-11-01", home.id, away.id, RuleBookId::iihf, "first game"};
    file.put(game);
    Film film{{}, game.id, "films/first.mp4", 123456789012, "ab12cd", {1280, 720}, 1800};
    file.put(film);
    StoredFit stored = fit(film.id);
    file.put(stored);
    return {home.id, goalie.id, game.id, film.id, stored.id};
}

StoredFit fit(const Id& film_id) {
    StoredFit stored;
    stored.film_id = film_id;
    stored.frame = 10;
    stored.pts_ticks = 5120;
    stored.rules = RuleBookId::iihf;
    stored.landmarks = {{"left_post", {600.125, 400.5}, IcePoint{-0.9144, 0.0}},
                        {"right_post", {700.25, 400.5}, IcePoint{0.9144, 0.0}},
                        {"blue_line", {650.5, 200.25}, std::nullopt}};
    stored.fit.image_from_ice = {50.0, 0.1, 640.0, 0.2, 50.0, 360.0, 0.0, 0.0, 1.0};
    stored.fit.ice_from_image = {0.02, 0.0, -12.8, 0.0, 0.02, -7.2, 0.0, 0.0, 1.0};
    stored.fit.radial = -1.0 / 3.0;
    stored.fit.image = {1280, 720};
    stored.fit.rms_px = 0.1 + 0.2;
    for (std::size_t i = 0; i < stored.fit.covariance.size(); ++i)
        stored.fit.covariance[i] = 1e-9 * static_cast<double>(i) / 7.0;
    stored.fit.radial_covariance.fill(1.0 / 7.0);
    stored.fit.click_sigma_px = 0.75;
    return stored;
}

Shot shot(const Ids& ids, std::int64_t frame, Outcome outcome) {
    Shot shot;
    shot.game_id = ids.game;
    shot.goalie_id = ids.goalie;
    shot.film_id = ids.film;
    shot.frame = frame;
    shot.pts_ticks = 512 * frame;
    shot.film_s = static_cast<double>(frame) / 30.0;
    shot.period = 2;
    shot.clock_s = 754.5;
    shot.read = Read::shot;
    shot.came = NextAction::pass;
    shot.situation = Situation::rush;
    shot.strength = Strength::short_handed;
    shot.outcome = outcome;
    shot.note = "late to the pass";
    return shot;
}

Moment moment(const Id& shot_id, const Ids& ids, double goalie_y_m) {
    Moment moment;
    moment.shot_id = shot_id;
    moment.kind = MomentKind::release;
    moment.film_id = ids.film;
    moment.frame = 40;
    moment.pts_ticks = 20480;
    moment.marks = {
        {{}, MarkKind::goalie, std::nullopt, IcePoint{0.1, goalie_y_m}, IceCovariance{1e-3, 1e-4, 2e-3}},
        {{}, MarkKind::puck, std::nullopt, IcePoint{1.0, 8.0}, IceCovariance{4e-3, 0.0, 5e-3}}};
    derive(moment, nullptr, rule_book(RuleBookId::iihf), parameters_for(Level::junior));
    return moment;
}

std::string dump(const std::filesystem::path& season) {
    SQLite::Database db{season.string(), SQLite::OPEN_READONLY};
    return dump(db);
}

std::string dump(SQLite::Database& db) {
    std::string text;
    for (const char* table :
         {"season", "parameter", "team", "goalie", "game", "film", "rink_fit", "clock_mark", "shot", "moment",
          "mark", "threat", "cue", "answer", "tag", "season_asks"}) {
        SQLite::Statement row{db, "SELECT * FROM " + std::string{table} + " ORDER BY 1"};
        while (row.executeStep()) {
            text += table;
            for (int i = 0; i < row.getColumnCount(); ++i)
                text += "|" + row.getColumn(i).getString();
            text += "\n";
        }
    }
    return text;
}

std::string value(const std::filesystem::path& season, const std::string& sql) {
    SQLite::Database db{season.string(), SQLite::OPEN_READONLY};
    return db.execAndGet(sql).getString();
}

void run(const std::filesystem::path& season, const std::string& sql) {
    SQLite::Database db{season.string(), SQLite::OPEN_READWRITE};
    db.exec(sql);
}

Refusal refusal_of(const std::function<void()>& body) {
    try {
        body();
    } catch (const SeasonError& error) {
        CHECK(std::string{error.what()}.find('\n') == std::string::npos);
        return {error.fault, error.what()};
    }
    FAIL("nothing was refused");
    return {};
}

ChildEnd run_apart(const std::function<bool()>& prepare, const std::function<void()>& body) {
    constexpr int unprepared = 101, thrown = 102, through = 100;
    const pid_t child = ::fork();
    if (child == 0) {
        if (!prepare()) ::_exit(unprepared);
        try {
            body();
        } catch (const SeasonError& error) {
            ::_exit(static_cast<int>(error.fault));
        } catch (...) {
            ::_exit(thrown);
        }
        ::_exit(through);
    }
    int status = 0;
    ::waitpid(child, &status, 0);
    const int code = WIFEXITED(status) ? WEXITSTATUS(status) : thrown;
    if (code == unprepared) return {};
    if (code == through) return {true, std::nullopt, false};
    if (code >= through) return {true, std::nullopt, true};
    return {true, static_cast<SeasonFault>(code), false};
}

} // namespace ropeline::sample
