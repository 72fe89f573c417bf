#include "season/sample.h"

#include "depth/reason.h"
#include "season/derive.h"
#include "season/play.h"

#include <doctest/doctest.h>

#include <algorithm>

namespace ropeline {
namespace {

using sample::Folder;

const RuleBook& iihf = rule_book(RuleBookId::iihf);

Mark at(MarkKind kind, IcePoint place) {
    Mark mark;
    mark.kind = kind;
    mark.ice = place;
    mark.sigma = IceCovariance{1e-4, 0.0, 1e-4};
    return mark;
}

Mark threat(const Threat& known) {
    Mark mark = at(MarkKind::threat, known.at);
    mark.receiver = known.kind;
    mark.lane = known.lane;
    mark.took = known.took;
    return mark;
}

constexpr IcePoint passer{5.0, 9.0}, receiver{-4.5, 7.0}, trailer{0.5, 14.0};
const std::vector<Threat> both{{receiver, ReceiverKind::one_timer, Lane::open, true},
                               {trailer, ReceiverKind::stop, Lane::contested, false}};

/// A rush: a pass from the right with two who could take it, then the shot, two fifths of a second apart; the
/// goalie comes far out at the pass and slides.
struct Rush {
    explicit Rush(SeasonFile& season) : file(season) {
        const sample::Ids ids = sample::fill(file);
        shot = sample::shot(ids, 40, Outcome::goal);
        file.put(shot);
        moments.resize(2);
        for (std::size_t index = 0; index < 2; ++index) {
            Moment& moment = moments[index];
            moment.shot_id = shot.id;
            moment.ordinal = static_cast<int>(index);
            moment.film_id = ids.film;
            moment.frame = 28 + 12 * static_cast<int>(index);
            moment.pts_ticks = 512 * moment.frame;
        }
        moments[0].kind = MomentKind::pass;
        moments[0].cues = {{CueKind::blade, Likelihood::pass}, {CueKind::eyes, Likelihood::shot}};
        moments[0].marks = {at(MarkKind::skate_left, {0.8, 1.95}), at(MarkKind::skate_right, {1.3, 1.65}),
                            at(MarkKind::puck, passer), threat(both[0]), threat(both[1])};
        moments[1].kind = MomentKind::release;
        moments[1].marks = {at(MarkKind::goalie, {-0.6, 2.15}), at(MarkKind::puck, receiver)};
        for (Moment& moment : moments)
            file.put(moment);
        CHECK(recompute(file) == 2);
        moments = file.moments(shot.id);
    }
    SeasonFile& file;
    Shot shot;
    std::vector<Moment> moments;
};

/// The same play put to src/depth by hand.
struct AskedByHand {
    Decision at_pass, at_release;

    explicit AskedByHand(const Parameters& parameters) {
        MarkedMoment pass;
        pass.stance = stance_from_skates({0.8, 1.95}, {1.3, 1.65});
        pass.puck = passer;
        pass.threats = both;
        pass.situation = Situation::rush;
        pass.likelihood = Likelihood::either; // the blade says pass and weighs two, the eyes say shot: one
        pass.next = NextAction::pass;
        at_pass = decide(pass, iihf, parameters);
        MarkedMoment release;
        release.stance = stance_from_mark({-0.6, 2.15});
        release.puck = receiver;
        release.situation = Situation::rush;
        release.next = NextAction::shot; // the pass came before it
        release.set = false;             // far more than 0.3 m/s
        release.before = Before{{1.05, 1.8}, 0.4};
        at_release = decide(release, iihf, parameters);
    }
};

void check_same(const ThreatReading& stored, const ThreatReading& wanted) {
    CHECK(stored.pass_s == wanted.pass_s);
    CHECK(stored.have_s == wanted.have_s);
    CHECK(stored.late_s == wanted.late_s);
    CHECK(stored.spare_s == wanted.spare_s);
    CHECK(stored.goes_to == wanted.goes_to);
    CHECK(stored.arrives_at == wanted.arrives_at);
    CHECK(stored.open_on_arrival == wanted.open_on_arrival);
}

} // namespace

TEST_CASE("a play of two moments and two threats is kept as the model says it") {
    const Folder folder;
    SeasonFile file = SeasonFile::create(folder / "a.season", sample::season());
    const Rush play{file};
    const AskedByHand wanted{parameters_for(Level::junior)};
    REQUIRE(wanted.at_pass.verdict == Verdict::over_challenged);
    REQUIRE(wanted.at_release.verdict == Verdict::beaten_across);

    REQUIRE(play.moments.size() == 2);
    const Moment& pass = play.moments[0];
    REQUIRE(pass.marks.size() == 5);
    for (std::size_t index = 0; index < 2; ++index) {
        const Mark& mark = pass.marks[3 + index];
        REQUIRE(mark.pass);
        CHECK(mark.receiver == both[index].kind);
        CHECK(mark.lane == both[index].lane);
        CHECK(mark.took == both[index].took);
        check_same(*mark.pass, wanted.at_pass.threats[index]);
    }
    REQUIRE(pass.judgement);
    CHECK(pass.judgement->advice == wanted.at_pass.advice);
    CHECK(pass.judgement->shot_open == wanted.at_pass.shot_open);
    CHECK(pass.judgement->net_left == wanted.at_pass.left);
    CHECK(pass.judgement->on_what_came == wanted.at_pass.on_what_came);
    const double beyond_m = wanted.at_pass.reading.depth_m - wanted.at_pass.advice->to_m;
    CHECK(pass.judgement->depth_error_m == doctest::Approx(beyond_m));
    CHECK(pass.judgement->verdict == Verdict::over_challenged);
    REQUIRE(pass.judgement->firmness);
    CHECK_FALSE(pass.set);
    CHECK(pass.cues.size() == 2);
    CHECK(play.moments[1].set == false);

    REQUIRE(file.shot_facts().size() == 1);
    const ShotFact fact = file.shot_facts()[0];
    CHECK(fact.moment_id == play.moments[1].id);
    CHECK(fact.verdict == wanted.at_release.verdict);
    CHECK(fact.advised_from_m == wanted.at_release.advice->from_m);
    CHECK(fact.advised_to_m == wanted.at_release.advice->to_m);
    CHECK(fact.advised_best_m == wanted.at_release.advice->best_m);
    CHECK(fact.advised_limit == wanted.at_release.advice->limit);
    CHECK(fact.net_left == wanted.at_release.left);
    REQUIRE(fact.gave_away);
    CHECK(*fact.gave_away == doctest::Approx(*wanted.at_release.gave_away));
    CHECK(fact.set == false);
    CHECK(fact.threats == 0);
    CHECK_FALSE(fact.least_spare_s);
    CHECK_FALSE(fact.overruled);
    REQUIRE(fact.pass);
    CHECK(fact.pass->moment_id == pass.id);
    CHECK(fact.pass->depth_m == wanted.at_pass.reading.depth_m);
    CHECK(fact.pass->advised_to_m == wanted.at_pass.advice->to_m);
    CHECK(fact.pass->depth_error_m == pass.judgement->depth_error_m);
    const auto spare_s = [](const ThreatReading& one) { return one.spare_s - one.late_s; };
    CHECK(fact.pass->least_spare_s ==
          std::min(spare_s(wanted.at_pass.threats[0]), spare_s(wanted.at_pass.threats[1])));
    CHECK(fact.pass->verdict == Verdict::over_challenged);
}

TEST_CASE("what came belongs to the moment it was asked of") {
    const Folder folder;
    SeasonFile file = SeasonFile::create(folder / "a.season", sample::season());
    const Rush play{file};
    const auto next = [&](std::size_t index) {
        return next_action(play.shot, play.moments, play.moments[index]);
    };
    CHECK(next(0) == NextAction::pass);
    CHECK(next(1) == NextAction::shot);
    Shot carried = play.shot;
    carried.came = NextAction::carry;
    CHECK(next_action(carried, play.moments, play.moments[1]) == NextAction::carry);
    const std::vector<Moment> alone{play.moments[1]};
    CHECK(next_action(play.shot, alone, alone[0]) == NextAction::pass);
    std::vector<Moment> entered = play.moments;
    entered[0].kind = MomentKind::entry;
    CHECK_FALSE(next_action(play.shot, entered, entered[0]));
    // Moments that are not stored yet have no id.
    std::vector<Moment> fresh = play.moments;
    for (Moment& moment : fresh) {
        moment.id.clear();
        moment.frame = 0;
    }
    fresh[0].kind = MomentKind::entry;
    CHECK_FALSE(next_action(play.shot, fresh, fresh[0]));
}

TEST_CASE(
    "an overruled verdict stands beside the model's, stays when all is worked out again, can be undone") {
    const Folder folder;
    const auto path = folder / "a.season";
    SeasonFile file = SeasonFile::create(path, sample::season());
    Rush play{file};
    const std::string before = sample::dump(path);
    Moment pass = play.moments[0];
    pass.overruled = Verdict::right_depth;
    pass.overrule_reason = "screened, \"had to\" come out";
    file.change("overruled, shot 1", [&] { file.put(pass); });
    CHECK(recompute(file) == 2);
    const ShotFact fact = file.shot_facts()[0];
    REQUIRE(fact.pass);
    CHECK(fact.pass->verdict == Verdict::over_challenged);
    CHECK(fact.pass->overruled == Verdict::right_depth);
    CHECK(fact.pass->overrule_reason == pass.overrule_reason);
    CHECK(sample::value(path, "SELECT pass_final_verdict FROM shot_facts") == "right_depth");
    CHECK(sample::value(path, "SELECT final_verdict FROM shot_facts") == "beaten_across");
    CHECK(file.undo_name() == "overruled, shot 1");
    CHECK(file.undo());
    CHECK(sample::dump(path) == before);
}

TEST_CASE("a changed parameter works the season out again as one named change, undone row by row") {
    const Folder folder;
    const auto path = folder / "a.season";
    SeasonFile file = SeasonFile::create(path, sample::season());
    Rush play{file};
    const std::string before = sample::dump(path);
    Parameters faster = file.season().parameters;
    faster.lateral_speed_mps = 5.0;
    std::vector<double> told;
    CHECK(set_parameters(file, Level::junior, faster, [&](double share) { told.push_back(share); }) == 2);
    REQUIRE(told.size() == 2);
    CHECK(told.front() == 0.5); // its one shot; the other half is to write it down
    CHECK(told.back() == 1.0);
    CHECK(file.undo_name() == "parameters: lateral speed 1.7 → 5 m/s");
    const AskedByHand wanted{faster};
    REQUIRE(wanted.at_pass.verdict == Verdict::right_depth);
    const ShotFact fact = file.shot_facts()[0];
    REQUIRE(fact.pass);
    CHECK(fact.pass->verdict == Verdict::right_depth);
    CHECK(fact.pass->advised_to_m == wanted.at_pass.advice->to_m);
    CHECK(fact.verdict == wanted.at_release.verdict);
    const std::string after = sample::dump(path);
    CHECK(before != after);
    CHECK(file.undo());
    CHECK(sample::dump(path) == before);
    CHECK(file.redo());
    CHECK(sample::dump(path) == after);

    CHECK(set_parameters(file, Level::junior, faster) == 0);
    CHECK(file.undo_name() == "parameters: lateral speed 1.7 → 5 m/s");
    CHECK(set_parameters(file, Level::elite, parameters_for(Level::elite)) == 2);
    CHECK(file.undo_name() == "parameters: level junior → elite");
    CHECK(file.season().level == Level::elite);
}

TEST_CASE("a parameter that cannot be is refused and nothing changes") {
    const Folder folder;
    const auto path = folder / "a.season";
    SeasonFile file = SeasonFile::create(path, sample::season());
    const Rush play{file};
    const std::string before = sample::dump(path);
    Parameters wrong = file.season().parameters;
    wrong.lateral_speed_mps = 45.0;
    const auto refusal = sample::refusal_of([&] { set_parameters(file, Level::junior, wrong); });
    CHECK(refusal.fault == SeasonFault::refused);
    CHECK(refusal.text == "lateral speed: 45 m/s is no such figure; it lies between 0.3 and 5.");
    CHECK(sample::dump(path) == before);
}

TEST_CASE("figures worked out in the background are no change to undo") {
    const Folder folder;
    SeasonFile file = SeasonFile::create(folder / "a.season", sample::season());
    const sample::Ids ids = sample::fill(file);
    Shot shot = sample::shot(ids, 40);
    file.put(shot);
    Moment moment = sample::moment(shot.id, ids);
    file.put(moment);
    CHECK_FALSE(file.shot_facts()[0].verdict);
    const auto before = file.undo_name();
    file.follow_up([&] { CHECK(recompute(file) == 1); });
    CHECK(file.shot_facts()[0].verdict);
    CHECK(file.undo_name() == before);
}

TEST_CASE("the angle before the depth, over three moments") {
    const Folder folder;
    SeasonFile file = SeasonFile::create(folder / "a.season", sample::season());
    Rush play{file};
    Moment third = play.moments[1];
    third.id.clear();
    third.ordinal = 2;
    for (Mark& mark : third.marks)
        mark.id.clear();
    // From (0.6, 1.0) to (-0.9, 1.5): first the turn, hardly any way out.
    play.moments[0].marks = {at(MarkKind::goalie, {0.6, 1.0}), at(MarkKind::puck, passer)};
    play.moments[1].marks = {at(MarkKind::goalie, {-0.55, 1.05}), at(MarkKind::puck, receiver)};
    third.marks = {at(MarkKind::goalie, {-0.9, 1.5}), at(MarkKind::puck, receiver)};
    for (Moment* moment : {&play.moments[0], &play.moments[1], &third})
        file.put(*moment);
    recompute(file);
    const auto moments = file.moments(play.shot.id);
    REQUIRE(moments.size() == 3);
    CHECK_FALSE(moments[1].order);
    REQUIRE(moments[2].order);
    CHECK(moments[2].order->held);
    CHECK(moments[2].order->turn_share > 0.9);
    CHECK(moments[2].order->out_share < 0.1);
    CHECK(file.shot_facts()[0].angle_first == true);
}

TEST_CASE("an answer keeps what the model said when it was given") {
    const Folder folder;
    SeasonFile file = SeasonFile::create(folder / "a.season", sample::season());
    const Rush play{file};
    Answer answer;
    answer.moment_id = play.moments[0].id;
    answer.answered_at = "2026-11-25T14:03:00Z";
    answer.read = Read::pass;
    answer.ice = IcePoint{0.7, 1.3};
    answer.took_s = 2.5;
    file.put(answer);
    Parameters slower = file.season().parameters;
    slower.lateral_speed_mps = 0.5;
    set_parameters(file, Level::junior, slower);
    REQUIRE(file.answers().size() == 1);
    const Answer back = file.answers()[0];
    CHECK(back.id == answer.id);
    CHECK(back.moment_id == play.moments[0].id);
    CHECK(back.answered_at == answer.answered_at);
    CHECK(back.read == Read::pass);
    CHECK(back.ice == answer.ice);
    CHECK(back.took_s == 2.5);
    CHECK(back.advised_from_m == play.moments[0].judgement->advice->from_m);
    CHECK(back.advised_to_m == play.moments[0].judgement->advice->to_m);
    CHECK(back.verdict == Verdict::over_challenged);
    CHECK(file.moments(play.shot.id)[0].judgement->advice->to_m != back.advised_to_m);
    CHECK(file.undo());
    CHECK(file.undo_name() == "answer");
    CHECK(file.undo());
    CHECK(file.answers().empty());
    answer.answered_at = "yesterday";
    CHECK(sample::refusal_of([&] { file.put(answer); }).fault == SeasonFault::refused);
}

} // namespace ropeline
