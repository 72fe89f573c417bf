// What is worked out from marks is in no step of the undo log: after undo and redo it follows from the fits,
// parameters and rule books that stand then.
#include "season/sample.h"

#include "season/derive.h"
#include "season/fit_here.h"

#include <doctest/doctest.h>

#include <array>

namespace ropeline {
namespace {

using doctest::Approx;
using sample::Folder;

const RuleBook& iihf = rule_book(RuleBookId::iihf);

/// 50 pixels a metre, the goal line's middle at (at_x, 360): a made homography.
StoredFit flat_fit(const Id& film_id, std::int64_t frame, double at_x) {
    StoredFit stored = sample::fit(film_id);
    stored.frame = frame;
    stored.fit.radial = 0.0;
    stored.fit.image_from_ice = {50.0, 0.0, at_x, 0.0, 50.0, 360.0, 0.0, 0.0, 1.0};
    stored.fit.ice_from_image = {0.02, 0.0, -0.02 * at_x, 0.0, 0.02, -7.2, 0.0, 0.0, 1.0};
    stored.fit.covariance = {};
    stored.fit.radial_covariance = {};
    return stored;
}

Mark clicked(MarkKind kind, ImagePoint at) {
    Mark mark;
    mark.kind = kind;
    mark.at = at;
    return mark;
}

/// A shot with one moment on frame 40, goalie and puck clicked, nothing fitted yet.
struct Clicked {
    explicit Clicked(SeasonFile& season) : file(season) {
        ids = sample::fill(file);
        file.remove_rink_fit(ids.fit);
        shot = sample::shot(ids, 40);
        file.put(shot);
        Moment moment;
        moment.shot_id = shot.id;
        moment.film_id = ids.film;
        moment.frame = 40;
        moment.marks = {clicked(MarkKind::goalie, {640.0, 420.0}), clicked(MarkKind::puck, {690.0, 760.0})};
        file.put(moment);
    }

    Moment moment() const { return file.moments(shot.id).at(0); }

    /// As the desk does it: the clicks measured by this fit, kept with it.
    void measure_by(const StoredFit& fit, const std::string& change, ImagePoint goalie) {
        Moment measured = moment();
        measured.marks[0].at = goalie;
        measured.rink_fit_id = fit.id;
        derive(measured, &fit.fit, iihf, file.season().parameters);
        file.change(change, [&] { file.put(measured); });
    }

    /// Depth of these clicks by that fit, from the definition: along the line from the net's middle to the puck.
    static double depth_by(const StoredFit& fit, ImagePoint goalie) {
        const IcePoint at = *ice_at(fit.fit, goalie);
        const IcePoint puck = *ice_at(fit.fit, {690.0, 760.0});
        return dot(at, puck) / length(puck);
    }

    void carry(const StoredFit& key, CarryState state, double at_x) {
        StoredCarry carry{key.id, 20, {}};
        for (int frame = 20; frame < 60; ++frame) {
            CarriedFrame one;
            one.state = state;
            one.fit = flat_fit(key.film_id, frame, at_x).fit;
            one.sigma_m = 0.05;
            carry.frames.push_back(one);
        }
        file.put(carry);
    }

    SeasonFile& file;
    sample::Ids ids;
    Shot shot;
};

} // namespace

TEST_CASE("a mark measured by a fit of another frame, then the fit was followed there: undo measures by what "
          "was followed") {
    const Folder folder;
    SeasonFile file = SeasonFile::create(folder / "a.season", sample::season());
    Clicked play{file};
    StoredFit key = flat_fit(play.ids.film, 20, 640.0);
    file.put(key);
    play.measure_by(key, "goalie mark", {640.0, 420.0});
    play.measure_by(key, "goalie moved", {640.0, 450.0});
    const double before_m = play.moment().reading->depth_m;
    CHECK(before_m == Approx(Clicked::depth_by(key, {640.0, 450.0})));

    const StoredFit followed = flat_fit(play.ids.film, 40, 600.0);
    play.carry(key, CarryState::held, 600.0);
    recompute(file, play.ids.game, {play.shot.id});
    CHECK(file.undo_name() == "goalie moved");
    CHECK(play.moment().reading->depth_m == Approx(Clicked::depth_by(followed, {640.0, 450.0})));

    REQUIRE(file.undo());
    const Moment back = play.moment();
    CHECK(back.marks[0].at == ImagePoint{640.0, 420.0});
    REQUIRE(back.reading);
    CHECK(back.reading->depth_m == Approx(Clicked::depth_by(followed, {640.0, 420.0})));
    CHECK(back.marks[0].ice->x_m == Approx(0.8));
    const auto fits = file.rink_fits(play.ids.film);
    const auto rests_on = std::find_if(fits.begin(), fits.end(),
                                       [&](const StoredFit& fit) { return fit.id == back.rink_fit_id; });
    REQUIRE(rests_on != fits.end());
    CHECK(rests_on->carried_from == key.id);
    CHECK(rests_on->frame == 40);

    REQUIRE(file.redo());
    CHECK(play.moment().reading->depth_m == Approx(Clicked::depth_by(followed, {640.0, 450.0})));
}

TEST_CASE("a fit that was lost on the way to the mark leaves no depth after an undo") {
    const Folder folder;
    SeasonFile file = SeasonFile::create(folder / "a.season", sample::season());
    Clicked play{file};
    StoredFit key = flat_fit(play.ids.film, 20, 640.0);
    file.put(key);
    play.measure_by(key, "goalie mark", {640.0, 420.0});
    play.measure_by(key, "goalie moved", {640.0, 450.0});
    play.carry(key, CarryState::lost, 600.0);
    REQUIRE(file.undo());
    const Moment back = play.moment();
    CHECK(back.rink_fit_id.empty());
    CHECK_FALSE(back.reading);
    CHECK_FALSE(back.judgement);
    CHECK_FALSE(back.marks[0].ice);
    CHECK_FALSE(back.marks[0].sigma);
}

TEST_CASE("a fit taken back takes its depths along, and brings them again") {
    const Folder folder;
    const auto path = folder / "a.season";
    SeasonFile file = SeasonFile::create(path, sample::season());
    Clicked play{file};
    const std::string before = sample::dump(path);
    StoredFit key = flat_fit(play.ids.film, 40, 640.0);
    file.change("rink fit", [&] {
        file.put(key);
        Moment moment = play.moment();
        moment.rink_fit_id = key.id;
        file.put(moment);
        CHECK(recompute(file) == 1);
    });
    const std::string after = sample::dump(path);
    CHECK(play.moment().reading->depth_m == Approx(Clicked::depth_by(key, {640.0, 420.0})));
    CHECK(play.moment().judgement);
    REQUIRE(file.undo());
    CHECK_FALSE(play.moment().reading);
    CHECK_FALSE(play.moment().judgement);
    CHECK_FALSE(play.moment().marks[0].ice);
    CHECK(sample::dump(path) == before);
    REQUIRE(file.redo());
    CHECK(sample::dump(path) == after);
}

TEST_CASE("a fit clicked anew and taken back: the mark is measured by the fit as it was first") {
    const Folder folder;
    SeasonFile file = SeasonFile::create(folder / "a.season", sample::season());
    Clicked play{file};
    StoredFit key = flat_fit(play.ids.film, 40, 640.0);
    file.put(key);
    play.measure_by(key, "goalie mark", {640.0, 420.0});
    StoredFit anew = flat_fit(play.ids.film, 40, 590.0);
    anew.id = key.id;
    file.change("rink fit, frame 40", [&] {
        file.put(anew);
        recompute(file);
    });
    CHECK(play.moment().reading->depth_m == Approx(Clicked::depth_by(anew, {640.0, 420.0})));
    REQUIRE(file.undo());
    CHECK(play.moment().reading->depth_m == Approx(Clicked::depth_by(key, {640.0, 420.0})));
}

TEST_CASE("where a followed fit was thrown away, the row it left for the mark still counts") {
    const Folder folder;
    SeasonFile file = SeasonFile::create(folder / "a.season", sample::season());
    Clicked play{file};
    StoredFit key = flat_fit(play.ids.film, 20, 640.0);
    file.put(key);
    StoredFit row = flat_fit(play.ids.film, 40, 600.0);
    row.landmarks.clear();
    row.carried_from = key.id;
    file.put(row);
    play.measure_by(row, "goalie mark", {640.0, 420.0});
    play.measure_by(row, "goalie moved", {640.0, 450.0});
    REQUIRE(file.undo());
    CHECK(play.moment().rink_fit_id == row.id);
    CHECK(play.moment().reading->depth_m == Approx(Clicked::depth_by(row, {640.0, 420.0})));
}

TEST_CASE("no step of the undo log holds a figure, and figures alone are no change") {
    const Folder folder;
    const auto path = folder / "a.season";
    SeasonFile file = SeasonFile::create(path, sample::season());
    const sample::Ids ids = sample::fill(file);
    Shot shot = sample::shot(ids, 40);
    file.put(shot);
    Moment moment = sample::moment(shot.id, ids);
    moment.marks.push_back(clicked(MarkKind::threat, {10.0, 20.0}));
    moment.marks.back().ice = IcePoint{3.25, 5.5};
    file.put(moment);
    const auto changes = sample::value(path, "SELECT count(*) FROM change");
    recompute(file);
    CHECK(sample::value(path, "SELECT count(*) FROM change") == changes);
    moment = file.moments(shot.id)[0];
    REQUIRE(moment.judgement);
    moment.marks[2].at = ImagePoint{11.0, 21.0};
    moment.overruled = Verdict::sat_back;
    file.put(moment);
    file.remove_shot(shot.id);
    for (const char* figure :
         {"depth_m", "verdict =", "band", "late_s", "net_left", "advised", "coverage", "3.25"}) {
        CAPTURE(figure);
        CHECK(sample::value(path, "SELECT count(*) FROM change_step WHERE statement LIKE '%" +
                                      std::string{figure} + "%'") == "0");
    }
    REQUIRE(file.undo());
    const Moment back = file.moments(shot.id).at(0);
    CHECK(back.overruled == Verdict::sat_back);
    REQUIRE(back.judgement);
    CHECK(back.judgement->verdict == moment.judgement->verdict);
    CHECK(back.reading->depth_m == moment.reading->depth_m);
    CHECK(back.marks[0].ice == moment.marks[0].ice); // without pixels: the coach's own
}

} // namespace ropeline
