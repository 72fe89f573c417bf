// What one turn of the desk shows, worked out once.
#include "desk/made_book.h"

#include "depth/net_seen.h"
#include "desk/state/turn_view.h"

#include <doctest/doctest.h>

#include <algorithm>

using namespace ropeline;
using namespace ropeline::test;

namespace {

TurnOf turn(const LogBook& book, std::int64_t frame, std::optional<IcePoint> tried = std::nullopt) {
    return {book.state().revision, frame, {1280, 720}, tried};
}

/// A fitted film with one shot at frame 100: skates, puck, one opponent.
LogBook with_a_shot(const std::filesystem::path& path) {
    LogBook book = begun(path);
    fit_still(book, 90);
    book.apply(NewShot{}, at(100));
    for (const IcePoint place :
         {IcePoint{0.5, 1.5}, IcePoint{0.9, 1.2}, IcePoint{5.0, 9.0}, IcePoint{-4.0, 6.0}})
        book.apply(FilmClick{seen(place)}, at(100));
    book.apply(ChooseIn{CardField::came, 1}, at(100));
    return book;
}

bool has_line(const TurnView& view, IceLineKind kind) {
    return std::ranges::find(view.lines, kind, &IceLine::kind) != view.lines.end();
}

} // namespace

TEST_CASE("a turn's view holds the fit, the verdict with its reason and every line of the moment in hand") {
    const Folder folder;
    const LogBook book = with_a_shot(folder.path / "a.season");
    const TurnView view = turn_view(book.state(), turn(book, 100));
    CHECK(view.here.source == FitHere::Source::carried);
    CHECK(view.in_this_frame);
    REQUIRE(view.judged);
    CHECK(view.judged->decision.verdict == model_verdict(*moment_in_hand(book.state())));
    CHECK_FALSE(view.judged->headline.empty());
    CHECK(view.judged->figures.size() >= 3);
    for (const IceLineKind kind : {IceLineKind::rope, IceLineKind::depth, IceLineKind::advised})
        CHECK(has_line(view, kind));
    CHECK((has_line(view, IceLineKind::pass) || has_line(view, IceLineKind::lost_pass)));

    CHECK_FALSE(turn_view(book.state(), turn(book, 101)).in_this_frame);
}

TEST_CASE("until the rink is found on a frame the plan lies as where it is known") {
    const Folder folder;
    LogBook book = begun(folder.path / "a.season");
    book.apply(NewShot{}, at(100));
    CHECK(turn_view(book.state(), turn(book, 100)).plan_net == NetAt::bottom);
    const made::Camera at_the_side{.x_m = -26.0,
                                   .y_m = 8.0,
                                   .height_m = 12.0,
                                   .looks_at = {0.0, 7.0},
                                   .focal_px = 1000.0,
                                   .image = {1280, 720}};
    fit(book, 400, at_the_side);
    REQUIRE(book.state().fits.size() == 1);
    const TurnView view = turn_view(book.state(), turn(book, 100));
    REQUIRE_FALSE(view.moment_fit.fit);
    CHECK(view.plan_net == plan_net_of(book.state().fits.front().fit));
    CHECK(view.plan_net != NetAt::bottom);
}

TEST_CASE("what is drawn of a moment rests on its goalie's own figures, not on the season's") {
    const Folder folder;
    LogBook book = with_a_shot(folder.path / "a.season");
    const double season_width_m = book.state().season.parameters.block_width_m;
    book.apply(MeasureGoalie{book.state().goalies.at(0).id, std::nullopt, 0.5, 3.0}, at(100));
    const TurnView view = turn_view(book.state(), turn(book, 100));
    CHECK(view.parameters.block_width_m == 0.5);
    CHECK(view.parameters.lateral_speed_mps == 3.0);
    CHECK(book.state().season.parameters.block_width_m == season_width_m);
    // The puck's eye draws by them what the figures beside it say in numbers.
    REQUIRE(view.judged);
    const MarkedMoment& marked = view.judged->asked.moment;
    const auto seen = net_seen(marked.stance, marked.puck, rule_book(view.moment_rules),
                               view.parameters.block_width_m, view.parameters.block_height_m);
    REQUIRE(seen);
    REQUIRE(view.moment->reading);
    REQUIRE(view.moment->reading->coverage);
    CHECK(seen->share == doctest::Approx(view.moment->reading->coverage->net_seen).epsilon(1e-12));
    // With no shot in hand they are the season's.
    while (moment_in_hand(book.state()))
        book.apply(PutDown{}, at(100));
    CHECK(turn_view(book.state(), turn(book, 100)).parameters.block_width_m == season_width_m);
}

TEST_CASE("a goalie tried on the plan changes the view and nothing else") {
    const Folder folder;
    const LogBook book = with_a_shot(folder.path / "a.season");
    const IcePoint deep = puck_line({5.0, 9.0}) * 0.8;
    const TurnView view = turn_view(book.state(), turn(book, 100, deep));
    REQUIRE(view.judged);
    CHECK(view.judged->decision.reading.depth_m == doctest::Approx(0.8));
    CHECK(moment_in_hand(book.state())->reading->depth_m > 1.2);
    CHECK_FALSE(view.of == turn(book, 100));
}

TEST_CASE("a view stands until something that it follows from changes") {
    const Folder folder;
    LogBook book = with_a_shot(folder.path / "a.season");
    const TurnView view = turn_view(book.state(), turn(book, 100));
    CHECK(view.of == turn(book, 100));
    CHECK_FALSE(view.of == turn(book, 99));
    book.take_jump();
    CHECK(view.of == turn(book, 100));
    book.apply(ChooseIn{CardField::came, 2}, at(100));
    CHECK_FALSE(view.of == turn(book, 100));
}

TEST_CASE("faint marks are all there are, and those the hand asks for") {
    const Folder folder;
    LogBook book = with_a_shot(folder.path / "a.season");
    book.apply(NewShot{}, at(160));
    const TurnView view = turn_view(book.state(), turn(book, 160));
    CHECK(view.ghosts.size() == 4);
    CHECK(view.asked.size() == 2); // both skates
    book.apply(PutDown{}, at(160));
    CHECK(turn_view(book.state(), turn(book, 160)).asked.empty());
    book.apply(BeginFit{}, at(160));
    const TurnView fitting = turn_view(book.state(), turn(book, 160));
    CHECK(fitting.ghosts.empty());
    CHECK(fitting.rules == book.state().selection.fit()->rules);
}

TEST_CASE("how firm the verdict is stands in the season; for a place tried out it follows by itself, once") {
    const Folder folder;
    LogBook book = with_a_shot(folder.path / "a.season");
    const TurnView kept = turn_view(book.state(), turn(book, 100));
    CHECK(kept.firmness_known);
    REQUIRE(kept.firmness);
    CHECK(kept.firmness->share == moment_in_hand(book.state())->judgement->firmness->share);
    const IcePoint deep = puck_line({5.0, 9.0}) * 0.3;
    TurnView view = turn_view(book.state(), turn(book, 100, deep));
    CHECK_FALSE(view.firmness_known);
    const auto without = view.judged->figures;
    work_out_firmness(book.state(), view);
    REQUIRE(view.firmness);
    CHECK(view.firmness_known);
    CHECK(view.judged->figures.size() == without.size() + 1);
    TurnView next = turn_view(book.state(), turn(book, 101, deep));
    take_firmness(book.state(), view, next);
    REQUIRE(next.firmness);
    CHECK(next.firmness->share == view.firmness->share);
    CHECK(next.judged->figures == view.judged->figures);
    TurnView elsewhere = turn_view(book.state(), turn(book, 100, deep * 2.0));
    take_firmness(book.state(), view, elsewhere);
    CHECK_FALSE(elsewhere.firmness_known); // another place, another answer
    book.apply(ChooseIn{CardField::situation, 1}, at(100));
    TurnView changed = turn_view(book.state(), turn(book, 100, deep));
    take_firmness(book.state(), view, changed);
    CHECK_FALSE(changed.firmness_known);
}

TEST_CASE("the curve of net left is that of the advice, and stands while the goalie is tried elsewhere") {
    const Folder folder;
    const LogBook book = with_a_shot(folder.path / "a.season");
    const TurnView view = turn_view(book.state(), turn(book, 100));
    REQUIRE(view.left);
    const Advice& advice = *view.judged->decision.advice;
    const auto least = std::ranges::min_element(view.left->places, {}, &CurvePoint::left);
    CHECK(least->left >= advice.left_best - 1e-4);
    CHECK(least->left <= advice.left_best + 0.003);
    CHECK(view.left->places.front().out_m == 0.0);
    CHECK(view.left->places.back().out_m > advice.furthest_m);
    const TurnView tried = turn_view(book.state(), turn(book, 100, puck_line({5.0, 9.0}) * 0.3));
    REQUIRE(tried.left);
    for (std::size_t index = 0; index < view.left->places.size(); ++index)
        CHECK(tried.left->places[index].left == view.left->places[index].left);
}

TEST_CASE("the furthest out that works is where lateness begins") {
    const RuleBook& rules = rule_book(RuleBookId::nhl);
    const Parameters parameters = parameters_for(Level::senior);
    const std::vector<Threat> threats = {{{-4.0, 7.0}, ReceiverKind::stop},
                                         {{-4.0, 7.0}, ReceiverKind::one_timer},
                                         {{5.05, 8.8}, ReceiverKind::stop},
                                         {{7.5, 17.0}, ReceiverKind::stop}};
    PlayMarks marks;
    marks.puck = {5.0, 9.0};
    marks.threats = threats;
    marks.situation = Situation::rush;
    const Play play = play_of(marks, rules, parameters);
    const Advice advice = advise(marks, play, rules, parameters);
    const LeftCurve curve = left_curve(marks, advice, rules, parameters);
    REQUIRE(curve.passes.size() == 4);
    const auto late_s = [&](std::size_t pass, double out_m) {
        return read_threat(play.threats[pass], play.shooter.line * out_m, play.blocking).late_s;
    };
    for (const std::size_t pass : {0U, 1U}) {
        CAPTURE(pass);
        REQUIRE(curve.passes[pass].works_m);
        CHECK_FALSE(curve.passes[pass].works_anywhere);
        CHECK(late_s(pass, *curve.passes[pass].works_m) == 0.0);
        CHECK(late_s(pass, *curve.passes[pass].works_m + 0.02) > 0.0);
    }
    CHECK(*curve.passes[1].works_m < *curve.passes[0].works_m); // a one-timer leaves less time
    // Near the puck's own line, and a long pass up it: nowhere on the curve is too far out, and being further out than
    // the receiver's own line allows makes nobody late.
    CHECK(curve.passes[2].works_anywhere);
    CHECK(curve.passes[3].works_anywhere);
    CHECK(late_s(3, curve.places.back().out_m) == 0.0);
}

TEST_CASE("lines on the ice say the stretch and how late each pass leaves the goalie") {
    const Folder folder;
    const LogBook book = with_a_shot(folder.path / "a.season");
    const TurnView view = turn_view(book.state(), turn(book, 100));
    const Advice& advice = *view.judged->decision.advice;
    const auto stretch = std::ranges::find(view.lines, IceLineKind::advised, &IceLine::kind);
    REQUIRE(stretch != view.lines.end());
    CHECK(length(stretch->points.front()) == doctest::Approx(advice.from_m));
    CHECK(length(stretch->points.back()) == doctest::Approx(advice.to_m));
    ThreatReading pass;
    pass.late_s = 0.214;
    CHECK(in_time_words(pass) == "0.21 s late");
    pass.late_s = 0.0;
    pass.spare_s = 0.12;
    CHECK(in_time_words(pass) == "0.12 s to spare");
    pass.spare_s = 0.004;
    CHECK(in_time_words(pass) == "just in time");
    CHECK(pass_words(ReceiverKind::one_timer, 0, pass) == "pass to A: just in time");
    CHECK(pass_words(ReceiverKind::tip, 27, pass) == "tip by B: just in time");
}
