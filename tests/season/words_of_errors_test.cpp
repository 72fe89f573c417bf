// What a coach is told when a season cannot hold a value.
#include "season/sample.h"

#include <doctest/doctest.h>

#include <array>
#include <string_view>

namespace ropeline {
namespace {

using sample::Folder;

/// One line, with what is wrong and what to do, and no word of the store's language.
std::string told(const std::function<void()>& body, SeasonFault fault = SeasonFault::refused) {
    const auto refusal = sample::refusal_of(body);
    CHECK(refusal.fault == fault);
    for (const std::string_view word : {"CHECK", "CONSTRAINT", "constraint", "length(", "BETWEEN", "UNIQUE",
                                        "FOREIGN", "SQL", "_m", "_px", "goalie.name"}) {
        CAPTURE(refusal.text);
        CAPTURE(word);
        CHECK(refusal.text.find(word) == std::string::npos);
    }
    CHECK(refusal.text.find("a.season") != std::string::npos);
    CHECK(refusal.text.ends_with('.'));
    return refusal.text;
}

bool has(const std::string& text, std::string_view part) {
    return text.find(part) != std::string::npos;
}

} // namespace

TEST_CASE("a value that the season cannot hold is told in a coach's words") {
    const Folder folder;
    SeasonFile file = SeasonFile::create(folder / "a.season", sample::season());
    const sample::Ids ids = sample::fill(file);

    Goalie goalie;
    goalie.name = std::string(520, 'a');
    const std::string name = told([&] { file.put(goalie); });
    CHECK(has(name, "a name has more than 500 letters, so nothing was changed. Shorten it."));

    Shot shot = sample::shot(ids, 40);
    shot.note = std::string(20001, 'n');
    CHECK(has(told([&] { file.put(shot); }), "more than 20000 letters"));
    shot = sample::shot(ids, 40);
    shot.period = 21;
    CHECK(has(told([&] { file.put(shot); }), "a period is not between 1 and 20"));
    shot = sample::shot(ids, 40);
    shot.clock_s = -1.0;
    CHECK(has(told([&] { file.put(shot); }), "a game clock is not between 0:00 and 120:00"));
    shot = sample::shot(ids, 40);
    shot.goalie_id = new_id();
    CHECK(has(told([&] { file.put(shot); }), "not in this season any more"));

    shot = sample::shot(ids, 40);
    file.put(shot);
    Moment moment = sample::moment(shot.id, ids);
    moment.marks[1].ice = IcePoint{12.0, 300.0};
    CHECK(has(told([&] { file.put(moment); }), "a mark lies too far away to be on this ice"));
    moment = sample::moment(shot.id, ids);
    moment.reading->off_angle_m = 250.0;
    CHECK(has(told([&] { file.put(moment); }), "a mark lies too far away to be on this ice"));
    moment = sample::moment(shot.id, ids);
    moment.depth_sigma_m = 2e6;
    CHECK(has(told([&] { file.put(moment); }), "the rink fit says next to nothing"));

    Game game;
    game.date = "last Saturday";
    CHECK(has(told([&] { file.put(game); }), "Write it like 2026-11-25."));
    Film film = file.films(ids.game)[0];
    film.path.clear();
    CHECK(has(told([&] { file.put(film); }), "the path of a film is empty"));
    StoredFit fit = sample::fit(ids.film);
    fit.fit.rms_px = -1.0;
    CHECK(has(told([&] { file.put(fit); }), "Fit the rink again."));
    ClockMark mark;
    mark.film_id = ids.film;
    mark.frame = 7;
    mark.clock_s = 100.0;
    file.put(mark);
    ClockMark again = mark;
    again.id.clear();
    CHECK(has(told([&] { file.put(again); }), "this frame has a clock mark already"));
}

TEST_CASE("every rule of the schema has its words: none is told as a value that merely cannot be held") {
    const Folder folder;
    SeasonFile file = SeasonFile::create(folder / "a.season", sample::season());
    const sample::Ids ids = sample::fill(file);
    Season season = file.season();
    season.league = std::string(501, 'l');
    CHECK(has(told([&] { file.put(season); }), "the name of the league"));
    season = file.season();
    season.parameters.lateral_speed_mps = -2000.0;
    CHECK(has(told([&] { file.put(season); }), "a figure of the model"));
    Team team{{}, std::string(501, 't')};
    CHECK(has(told([&] { file.put(team); }), "more than 500 letters"));
    Goalie goalie;
    goalie.catches = "both";
    CHECK(has(told([&] { file.put(goalie); }), "neither left nor right"));
    Answer answer;
    answer.moment_id = new_id();
    answer.answered_at = "yesterday";
    CHECK(has(told([&] { file.put(answer); }), "the time of an answer"));
}

TEST_CASE("a choice that is none is refused in one line: a rule book too many, an outcome of the future") {
    const Folder folder;
    SeasonFile file = SeasonFile::create(folder / "a.season", sample::season());
    const sample::Ids ids = sample::fill(file);
    Game game;
    game.rules = static_cast<RuleBookId>(rule_books().size());
    CHECK(has(sample::refusal_of([&] { file.put(game); }).text, "Choose it again."));
    StoredFit fit = sample::fit(ids.film);
    fit.rules = static_cast<RuleBookId>(-1);
    CHECK(sample::refusal_of([&] { file.put(fit); }).fault == SeasonFault::refused);
    Shot shot = sample::shot(ids, 40);
    shot.outcome = static_cast<Outcome>(99);
    CHECK(sample::refusal_of([&] { file.put(shot); }).fault == SeasonFault::refused);
    shot = sample::shot(ids, 40);
    shot.situation = static_cast<Situation>(99);
    CHECK(sample::refusal_of([&] { file.put(shot); }).fault == SeasonFault::refused);
    Moment moment = sample::moment(ids.game, ids);
    moment.kind = static_cast<MomentKind>(99);
    CHECK(sample::refusal_of([&] { file.put(moment); }).fault == SeasonFault::refused);
    CHECK(file.games().size() == 1);
    CHECK(file.shots(ids.game).empty());
}

TEST_CASE("a rule book that the program does not know, in the file, is one line wherever it is read") {
    const Folder folder;
    const auto path = folder / "a.season";
    SeasonFile file = SeasonFile::create(path, sample::season());
    const sample::Ids ids = sample::fill(file);
    sample::run(path, "UPDATE game SET rules = 'pond'; UPDATE rink_fit SET rules = 'pond'");
    CHECK(has(sample::refusal_of([&] { file.games(); }).text, "pond"));
    CHECK(has(sample::refusal_of([&] { file.rink_fits(ids.film); }).text, "pond"));
}

} // namespace ropeline
