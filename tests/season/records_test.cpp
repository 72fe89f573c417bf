#include "season/sample.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <set>
#include <string_view>

namespace ropeline {
namespace {

using sample::Folder;

bool same(const Mark& a, const Mark& b) {
    return a.id == b.id && a.kind == b.kind && a.at == b.at && a.ice == b.ice &&
           a.sigma.has_value() == b.sigma.has_value() &&
           (!a.sigma ||
            (a.sigma->xx == b.sigma->xx && a.sigma->xy == b.sigma->xy && a.sigma->yy == b.sigma->yy));
}

} // namespace

TEST_CASE("a season comes back as it was put") {
    const Folder folder;
    Season season = sample::season("Winter 2026");
    season.parameters.base_half_width_m = 0.1 + 0.2;
    SeasonFile file = SeasonFile::create(folder / "a.season", season);
    const Season back = file.season();
    CHECK(back.name == "Winter 2026");
    CHECK(back.league == "Harbour League");
    CHECK(back.rules == RuleBookId::iihf);
    CHECK(back.level == Level::junior);
    for (const ParameterFact& fact : parameter_facts())
        CHECK(parameter(back.parameters, fact.key) == parameter(season.parameters, fact.key));
}

TEST_CASE("every record comes back as it was put, to the last bit") {
    const Folder folder;
    SeasonFile file = SeasonFile::create(folder / "a.season", sample::season());
    const sample::Ids ids = sample::fill(file);

    REQUIRE(file.teams().size() == 2);
    CHECK(file.teams()[0].name == "Quarry Lamps");
    REQUIRE(file.goalies().size() == 1);
    CHECK(file.goalies()[0].catches == "left");
    CHECK(file.goalies()[0].team_id == ids.team);
    REQUIRE(file.games().size() == 1);
    CHECK(file.games()[0].date == "2026-11-01");
    CHECK(file.games()[0].note == "first game");

    const auto films = file.films(ids.game);
    REQUIRE(films.size() == 1);
    CHECK(films[0].bytes == 123456789012);
    CHECK(films[0].shown == ImageSize{1280, 720});
    CHECK(film_path(file, films[0]) == folder / "films/first.mp4");

    const StoredFit fit = sample::fit(ids.film);
    const auto fits = file.rink_fits(ids.film);
    REQUIRE(fits.size() == 1);
    CHECK(fits[0].fit.image_from_ice == fit.fit.image_from_ice);
    CHECK(fits[0].fit.ice_from_image == fit.fit.ice_from_image);
    CHECK(fits[0].fit.covariance == fit.fit.covariance);
    CHECK(fits[0].fit.radial_covariance == fit.fit.radial_covariance);
    CHECK(fits[0].fit.radial == fit.fit.radial);
    CHECK(fits[0].fit.image == fit.fit.image);
    CHECK(fits[0].fit.rms_px == fit.fit.rms_px);
    REQUIRE(fits[0].landmarks.size() == 3);
    CHECK(fits[0].landmarks[1].name == "right_post");
    CHECK(fits[0].landmarks[1].at == ImagePoint{700.25, 400.5});
    CHECK(fits[0].landmarks[1].point == IcePoint{0.9144, 0.0});
    CHECK(fits[0].landmarks[2].name == "blue_line");
    CHECK(fits[0].landmarks[2].at == ImagePoint{650.5, 200.25});
    CHECK_FALSE(fits[0].landmarks[2].point);

    Shot shot = sample::shot(ids, 40, Outcome::save_rebound);
    file.put(shot);
    Moment moment = sample::moment(shot.id, ids);
    moment.rink_fit_id = ids.fit;
    file.put(moment);
    const auto shots = file.shots(ids.game);
    REQUIRE(shots.size() == 1);
    CHECK(shots[0].id == shot.id);
    CHECK(shots[0].film_s == 40.0 / 30.0);
    CHECK(shots[0].period == 2);
    CHECK(shots[0].clock_s == 754.5);
    CHECK(shots[0].read == Read::shot);
    CHECK(shots[0].came == NextAction::pass);
    CHECK(shots[0].situation == Situation::rush);
    CHECK(shots[0].strength == Strength::short_handed);
    CHECK(shots[0].outcome == Outcome::save_rebound);
    CHECK(shots[0].note == "late to the pass");

    const auto moments = file.moments(shot.id);
    REQUIRE(moments.size() == 1);
    CHECK(moments[0].rink_fit_id == ids.fit);
    REQUIRE(moments[0].marks.size() == 2);
    for (std::size_t i = 0; i < 2; ++i)
        CHECK(same(moments[0].marks[i], moment.marks[i]));
    REQUIRE(moments[0].reading);
    CHECK(moments[0].reading->depth_m == moment.reading->depth_m);
    CHECK(moments[0].reading->band == moment.reading->band);
    REQUIRE(moments[0].reading->coverage);
    CHECK(moments[0].reading->coverage->far_side.goal_line_m ==
          moment.reading->coverage->far_side.goal_line_m);
    CHECK(moments[0].depth_sigma_m == moment.depth_sigma_m);
    CHECK(moments[0].band_odds_of_band == moment.band_odds_of_band);
}

TEST_CASE("what is not known is not there") {
    const Folder folder;
    SeasonFile file = SeasonFile::create(folder / "a.season", sample::season());
    Game game;
    file.put(game);
    Shot shot;
    shot.game_id = game.id;
    file.put(shot);
    Moment moment;
    moment.shot_id = shot.id;
    moment.marks = {{{}, MarkKind::puck, ImagePoint{1.0, 2.0}, std::nullopt, std::nullopt}};
    file.put(moment);
    CHECK(file.games()[0].date.empty());
    const Shot back = file.shots(game.id)[0];
    CHECK(back.goalie_id.empty());
    CHECK_FALSE(back.outcome);
    CHECK_FALSE(back.period);
    CHECK_FALSE(file.moments(shot.id)[0].reading);
    CHECK_FALSE(file.moments(shot.id)[0].marks[0].ice);
    const auto facts = file.shot_facts();
    REQUIRE(facts.size() == 1);
    CHECK_FALSE(facts[0].depth_m);
    CHECK_FALSE(facts[0].goalie_at);
    CHECK(facts[0].goalie.empty());
}

TEST_CASE("marks that are no longer listed are removed, the others keep their ids") {
    const Folder folder;
    SeasonFile file = SeasonFile::create(folder / "a.season", sample::season());
    const sample::Ids ids = sample::fill(file);
    Shot shot = sample::shot(ids, 40);
    file.put(shot);
    Moment moment = sample::moment(shot.id, ids);
    file.put(moment);
    const Id puck = moment.marks[1].id;
    moment.marks.erase(moment.marks.begin());
    file.put(moment);
    const auto back = file.moments(shot.id);
    REQUIRE(back[0].marks.size() == 1);
    CHECK(back[0].marks[0].id == puck);
    file.remove_shot(shot.id);
    CHECK(sample::value(folder / "a.season", "SELECT count(*) FROM mark WHERE moment_id IS NOT NULL") == "0");
}

TEST_CASE("shot_facts takes the release, else the last moment that has a depth") {
    const Folder folder;
    SeasonFile file = SeasonFile::create(folder / "a.season", sample::season());
    const sample::Ids ids = sample::fill(file);
    Shot shot = sample::shot(ids, 40, Outcome::goal);
    file.put(shot);
    const auto add = [&](int ordinal, MomentKind kind, double goalie_y_m) {
        Moment moment = sample::moment(shot.id, ids, goalie_y_m);
        moment.ordinal = ordinal;
        moment.kind = kind;
        file.put(moment);
        return moment;
    };
    const Moment entry = add(0, MomentKind::entry, 2.0);
    const Moment pass = add(1, MomentKind::pass, 1.5);
    CHECK(file.shot_facts()[0].depth_m == pass.reading->depth_m);
    const Moment release = add(2, MomentKind::release, 1.0);
    add(3, MomentKind::rebound, 0.3);
    const ShotFact fact = file.shot_facts()[0];
    CHECK(fact.depth_m == release.reading->depth_m);
    CHECK(fact.clearance_m == release.reading->clearance_m);
    CHECK(fact.goalie_at == IcePoint{0.1, 1.0});
    CHECK(fact.puck_at == IcePoint{1.0, 8.0});
    CHECK(fact.goalie == "Ilse Tamm");
    CHECK(fact.team == "Saltmarsh Herons");
    CHECK(fact.away_team == "Quarry Lamps");
    CHECK(fact.game_date == "2026-11-01");
}

TEST_CASE("two skates count as the goalie's place, also beside a single mark") {
    const Folder folder;
    SeasonFile file = SeasonFile::create(folder / "a.season", sample::season());
    const sample::Ids ids = sample::fill(file);
    Shot shot = sample::shot(ids, 40);
    file.put(shot);
    Moment moment = sample::moment(shot.id, ids);
    moment.marks.push_back({{}, MarkKind::skate_left, std::nullopt, IcePoint{-0.25, 1.0}, std::nullopt});
    moment.marks.push_back({{}, MarkKind::skate_right, std::nullopt, IcePoint{0.75, 2.0}, std::nullopt});
    file.put(moment);
    CHECK(file.shot_facts()[0].goalie_at == IcePoint{0.25, 1.5});
}

TEST_CASE("ids are UUIDv7 and sort in the order they were made") {
    // RFC 9562, 5.7 and 4.1: version 7 in the 13th digit, variant 10 in the 17th.
    const std::string form = "hhhhhhhh-hhhh-7hhh-vhhh-hhhhhhhhhhhh";
    const auto has_form = [&](const Id& id) {
        return std::ranges::equal(id, form, [](char c, char f) {
            if (f == 'h') return std::string_view("0123456789abcdef").find(c) != std::string_view::npos;
            return f == 'v' ? std::string_view("89ab").find(c) != std::string_view::npos : c == f;
        });
    };
    std::set<Id> seen;
    Id last;
    for (int i = 0; i < 20000; ++i) {
        const Id id = new_id();
        if (i < 100) CHECK_MESSAGE(has_form(id), id);
        CHECK_MESSAGE(id > last, id, " after ", last);
        seen.insert(id);
        last = id;
    }
    CHECK(seen.size() == 20000);
    const auto stamp = std::stoll(last.substr(0, 8) + last.substr(9, 4), nullptr, 16);
    const auto now = std::chrono::duration_cast<std::chrono::milliseconds>(
                         std::chrono::system_clock::now().time_since_epoch())
                         .count();
    CHECK(std::abs(now - stamp) < 60000);
}

TEST_CASE("words have keys that lead back to them") {
    for (const auto outcome : {Outcome::goal, Outcome::save_held, Outcome::save_rebound, Outcome::post,
                               Outcome::miss, Outcome::block, Outcome::no_shot})
        CHECK(from_key<Outcome>(key_of(outcome)) == outcome);
    for (const auto kind : {MarkKind::goalie, MarkKind::skate_left, MarkKind::skate_right, MarkKind::puck,
                            MarkKind::threat, MarkKind::landmark})
        CHECK(from_key<MarkKind>(key_of(kind)) == kind);
    CHECK(from_key<Strength>("short_handed") == Strength::short_handed);
    CHECK_FALSE(from_key<Outcome>("saved"));
    CHECK(label_of(Outcome::save_held) == "save, held");
    CHECK(label_of(Situation::penalty_kill) == "penalty kill");
}

TEST_CASE("a shot on goal is a save or a goal and nothing else") {
    // NCAA statisticians' manual 2020-21, sec. 4 art. 2: a shot on goal ends only as a save or a goal.
    CHECK(is_shot_on_goal(Outcome::goal));
    CHECK(is_shot_on_goal(Outcome::save_held));
    CHECK(is_shot_on_goal(Outcome::save_rebound));
    for (const auto outcome : {Outcome::post, Outcome::miss, Outcome::block, Outcome::no_shot})
        CHECK_FALSE(is_shot_on_goal(outcome));
    CHECK_FALSE(is_save(Outcome::goal));
}

TEST_CASE("a film index is kept beside its film and is no part of undo") {
    const Folder folder;
    SeasonFile file = SeasonFile::create(folder / "a.season", sample::season());
    const sample::Ids ids = sample::fill(file);
    CHECK_FALSE(file.film_index(ids.film));
    const auto before = file.undo_name();
    file.put(StoredFilmIndex{
        ids.film, "ab12cd", "libavformat 59.27.100", {std::byte{0}, std::byte{255}, std::byte{0}}});
    const auto index = file.film_index(ids.film);
    REQUIRE(index);
    CHECK(index->frames == std::vector{std::byte{0}, std::byte{255}, std::byte{0}});
    CHECK(index->library == "libavformat 59.27.100");
    CHECK(file.undo_name() == before);
}

TEST_CASE("what was found along a film is kept with it, takes the place of what was there, and is no change "
          "of the coach's") {
    const Folder folder;
    SeasonFile file = SeasonFile::create(folder / "a.season", sample::season());
    const sample::Ids ids = sample::fill(file);
    CHECK_FALSE(file.film_marks(ids.film));
    const auto before = file.undo_name();
    file.put(StoredFilmMarks{ids.film, "ab12cd", {std::byte{1}}});
    file.put(StoredFilmMarks{ids.film, "ab12cd", {std::byte{0}, std::byte{255}}});
    const auto marks = file.film_marks(ids.film);
    REQUIRE(marks);
    CHECK(marks->marks == std::vector{std::byte{0}, std::byte{255}});
    CHECK(marks->fingerprint == "ab12cd");
    CHECK(file.undo_name() == before);
}

} // namespace ropeline
