// Clock marks, the net at the other end, and a moment that a second camera saw, as the season file keeps
// them.
#include "season/sample.h"

#include "camera/turned.h"
#include "season/derive.h"
#include "season/play.h"

#include <doctest/doctest.h>

namespace ropeline {
namespace {

using doctest::Approx;
using sample::Folder;

const RuleBook& iihf = rule_book(RuleBookId::iihf);

ClockMark clock_mark(const Id& film_id, std::int64_t frame, int period, double clock_s) {
    ClockMark mark;
    mark.film_id = film_id;
    mark.frame = frame;
    mark.pts_ticks = 512 * frame;
    mark.film_s = static_cast<double>(frame) / 30.0;
    mark.period = period;
    mark.clock_s = clock_s;
    return mark;
}

Mark clicked(MarkKind kind, ImagePoint at) {
    Mark mark;
    mark.kind = kind;
    mark.at = at;
    return mark;
}

/// A camera high beside the red line that has both nets in its picture (a made homography).
StoredFit wide_fit(const Id& film_id) {
    StoredFit stored = sample::fit(film_id);
    stored.fit.radial = 0.0;
    stored.fit.covariance = {};
    stored.fit.radial_covariance = {};
    const auto row = [](double h0, double h1, double h2) { return std::array{h0, h1, h2}; };
    const auto [a, b, c] = row(4.0, 20.0, 100.0);
    const auto [d, e, f] = row(-12.0, 1.0, 400.0);
    const auto [g, h, i] = row(0.012, 0.001, 1.0);
    stored.fit.image_from_ice = {a, b, c, d, e, f, g, h, i};
    const double det = a * (e * i - f * h) - b * (d * i - f * g) + c * (d * h - e * g);
    stored.fit.ice_from_image = {(e * i - f * h) / det, (c * h - b * i) / det, (b * f - c * e) / det,
                                 (f * g - d * i) / det, (a * i - c * g) / det, (c * d - a * f) / det,
                                 (d * h - e * g) / det, (b * g - a * h) / det, (a * e - b * d) / det};
    return stored;
}

} // namespace

TEST_CASE("clock marks come back as they were put, by frame, and undo takes them away one by one") {
    const Folder folder;
    const auto path = folder / "a.season";
    SeasonFile file = SeasonFile::create(path, sample::season());
    const sample::Ids ids = sample::fill(file);
    const std::string before = sample::dump(path);
    ClockMark late = clock_mark(ids.film, 900, 2, 754.25);
    late.running = false;
    file.put(late);
    ClockMark early = clock_mark(ids.film, 30, 2, 0.1 + 0.2);
    file.put(early);
    const auto marks = file.clock_marks(ids.film);
    REQUIRE(marks.size() == 2);
    CHECK(marks[0].id == early.id);
    CHECK(marks[0].clock_s == 0.1 + 0.2);
    CHECK(marks[0].running);
    CHECK(marks[1].frame == 900);
    CHECK(marks[1].pts_ticks == 512 * 900);
    CHECK(marks[1].film_s == 30.0);
    CHECK(marks[1].period == 2);
    CHECK_FALSE(marks[1].running);
    CHECK(file.undo());
    CHECK(file.clock_marks(ids.film).size() == 1);
    CHECK(file.undo());
    CHECK(sample::dump(path) == before);
    CHECK(file.redo());
    file.remove_clock_mark(late.id);
    CHECK(file.clock_marks(ids.film).empty());
    CHECK(file.undo());
    CHECK(file.clock_marks(ids.film).size() == 1);
}

TEST_CASE("two clock marks at one frame are refused, and so is a clock that cannot be") {
    const Folder folder;
    SeasonFile file = SeasonFile::create(folder / "a.season", sample::season());
    const sample::Ids ids = sample::fill(file);
    ClockMark first = clock_mark(ids.film, 30, 1, 900.0);
    file.put(first);
    ClockMark again = clock_mark(ids.film, 30, 1, 800.0);
    CHECK(sample::refusal_of([&] { file.put(again); }).fault == SeasonFault::refused);
    ClockMark wrong = clock_mark(ids.film, 60, 0, 900.0);
    CHECK(sample::refusal_of([&] { file.put(wrong); }).fault == SeasonFault::refused);
    wrong = clock_mark(ids.film, 60, 1, -1.0);
    CHECK(sample::refusal_of([&] { file.put(wrong); }).fault == SeasonFault::refused);
}

TEST_CASE("the two ends of a film, and what a shot says of clock and net, come back") {
    const Folder folder;
    SeasonFile file = SeasonFile::create(folder / "a.season", sample::season());
    const sample::Ids ids = sample::fill(file);
    CHECK_FALSE(file.films(ids.game)[0].first_s);
    Film film = file.films(ids.game)[0];
    film.first_s = -0.021;
    film.last_s = 59.98;
    file.put(film);
    CHECK(file.films(ids.game)[0].first_s == -0.021);
    CHECK(file.films(ids.game)[0].last_s == 59.98);
    Shot shot = sample::shot(ids, 40);
    file.put(shot);
    CHECK_FALSE(file.shots(ids.game)[0].clock_from_marks);
    CHECK_FALSE(file.shots(ids.game)[0].far_net);
    shot.clock_from_marks = shot.far_net = true;
    file.put(shot);
    CHECK(file.shots(ids.game)[0].clock_from_marks);
    CHECK(file.shots(ids.game)[0].far_net);
}

TEST_CASE("a goalie at the far net is measured like one at the near net, with the same fit") {
    const Folder folder;
    SeasonFile file = SeasonFile::create(folder / "a.season", sample::season());
    sample::Ids ids = sample::fill(file);
    StoredFit stored = wide_fit(ids.film);
    stored.frame = 20;
    file.put(stored);
    constexpr IcePoint goalie{-0.4, 1.3}, puck{3.5, 8.0};
    for (const bool far : {false, true}) {
        Shot shot = sample::shot(ids, far ? 60 : 40);
        shot.far_net = far;
        file.put(shot);
        Moment moment;
        moment.shot_id = shot.id;
        moment.film_id = ids.film;
        moment.rink_fit_id = stored.id;
        moment.frame = shot.frame;
        const auto place = [&](IcePoint at) {
            return *image_at(stored.fit, far ? turned(at, iihf) : at); // where the camera sees it
        };
        moment.marks = {clicked(MarkKind::goalie, place(goalie)), clicked(MarkKind::puck, place(puck))};
        file.put(moment);
    }
    CHECK(recompute(file) == 2);
    const auto facts = file.shot_facts();
    REQUIRE(facts.size() == 2);
    REQUIRE(facts[0].depth_m);
    REQUIRE(facts[1].depth_m);
    CHECK(*facts[0].depth_m == Approx(dot(goalie, puck * (1.0 / length(puck)))).epsilon(1e-9));
    CHECK(*facts[1].depth_m == Approx(*facts[0].depth_m).epsilon(1e-9));
    CHECK(*facts[1].off_angle_m == Approx(*facts[0].off_angle_m).epsilon(1e-8));
    CHECK(facts[1].goalie_at->y_m == Approx(goalie.y_m).epsilon(1e-8));
    CHECK(facts[1].band == facts[0].band);
    CHECK(facts[1].verdict == facts[0].verdict);
}

TEST_CASE("what a second camera saw has positions and no verdict, and no figure of the season moves by it") {
    const Folder folder;
    const auto path = folder / "a.season";
    SeasonFile file = SeasonFile::create(path, sample::season());
    const sample::Ids ids = sample::fill(file);
    Shot shot = sample::shot(ids, 40);
    file.put(shot);
    Moment pass = sample::moment(shot.id, ids, 1.1);
    pass.kind = MomentKind::pass;
    pass.frame = 20;
    file.put(pass);
    Moment release = sample::moment(shot.id, ids);
    release.ordinal = 1;
    file.put(release);
    recompute(file);
    const ShotFact before = file.shot_facts().at(0);
    const auto play_before = file.moments(shot.id);

    // The same moments again, later in order, with the goalie somewhere else and later in the film.
    for (const auto& [first, ordinal] : {std::pair{pass, 2}, std::pair{release, 3}}) {
        Moment view = sample::moment(shot.id, ids, 2.9);
        view.same_as = first.id;
        view.kind = first.kind;
        view.ordinal = ordinal;
        view.frame = 500 + ordinal;
        file.put(view);
    }
    recompute(file);
    const ShotFact after = file.shot_facts().at(0);
    CHECK(after.moment_id == release.id);
    REQUIRE(after.pass);
    CHECK(after.pass->moment_id == pass.id);
    CHECK(after.depth_m == before.depth_m);
    CHECK(after.verdict == before.verdict);
    CHECK(after.set == before.set);
    CHECK(after.angle_first == before.angle_first);
    CHECK(after.pass->verdict == before.pass->verdict);

    const auto play = file.moments(shot.id);
    REQUIRE(play.size() == 4);
    CHECK(main_moment(play)->id == release.id);
    for (std::size_t index = 0; index < 2; ++index) {
        REQUIRE(play[index].judgement);
        CHECK(play[index].judgement->verdict == play_before[index].judgement->verdict);
        CHECK(play[2 + index].reading);
        CHECK_FALSE(play[2 + index].judgement);
        CHECK_FALSE(play[2 + index].set);
        CHECK_FALSE(asked_of(shot, play, play[2 + index]));
        CHECK(next_action(shot, play, play[index]) == next_action(shot, play_before, play_before[index]));
    }

    // It goes with the moment it shows, and comes back with it.
    const std::string full = sample::dump(path);
    file.remove_moment(release.id);
    CHECK(file.moments(shot.id).size() == 2);
    CHECK(file.undo());
    CHECK(sample::dump(path) == full);
}

TEST_CASE("a second camera whose fit was made from the other end sees the goalie at his own net") {
    const Folder folder;
    SeasonFile file = SeasonFile::create(folder / "a.season", sample::season());
    const sample::Ids ids = sample::fill(file);
    StoredFit stored = wide_fit(ids.film);
    stored.frame = 20;
    Shot shot = sample::shot(ids, 40); // near net, by the first camera's fit
    Moment view;
    view.same_as = new_id();
    constexpr IcePoint goalie{0.5, 1.4};
    view.marks = {clicked(MarkKind::goalie, *image_at(stored.fit, turned(goalie, iihf)))};
    const RinkFit lies = fit_for(shot, view, stored.fit, iihf);
    const auto seen = ice_at(lies, *view.marks[0].at);
    REQUIRE(seen);
    CHECK(seen->x_m == Approx(goalie.x_m));
    CHECK(seen->y_m == Approx(goalie.y_m));
    view.marks = {clicked(MarkKind::goalie, *image_at(stored.fit, goalie))};
    CHECK(ice_at(fit_for(shot, view, stored.fit, iihf), *view.marks[0].at)->y_m == Approx(goalie.y_m));
}

} // namespace ropeline
