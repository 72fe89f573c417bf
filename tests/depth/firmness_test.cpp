// How firm a verdict is.
#include "depth/firmness.h"
#include "depth/usual.h"

#include <doctest/doctest.h>

#include <cmath>
#include <stdexcept>
#include <vector>

using namespace ropeline;
using namespace ropeline::usual;

namespace {

MarkedMoment slot_shot(double out_m) {
    MarkedMoment moment;
    moment.puck = {0.5, 6.0};
    moment.stance = stance_from_mark(puck_line(moment.puck) * out_m);
    moment.situation = Situation::zone;
    return moment;
}
Firmness firmness(const MarkedMoment& moment, std::string_view seed = "a moment") {
    return firmness_of(moment, nhl, senior, Level::senior, seed).value();
}

} // namespace

TEST_CASE("deep in the stretch firm, at its very end a close call") {
    CHECK(firmness(slot_shot(0.6)).share == 1.0);
    CHECK(firmness(slot_shot(0.6)).turns_on.empty());
    const Advice advice = *decide(slot_shot(1.9), nhl, senior).advice;
    const Firmness edge = firmness(slot_shot(advice.to_m + senior.depth_tolerance_m - 1e-4));
    CHECK(edge.share < firm_from);
    CHECK(edge.share > 0.2);
    CHECK(edge.becomes == Verdict::too_far_out);
    CHECK_FALSE(edge.turns_on.empty());
    CHECK_FALSE(label_of_turn(edge.turns_on).empty());
}

TEST_CASE("the same moment gives the same answer, another one other draws") {
    const MarkedMoment moment = slot_shot(1.65);
    const Firmness once = firmness(moment, "one"), again = firmness(moment, "one");
    CHECK(once.share == again.share);
    CHECK(once.turns_on == again.turns_on);
    bool differs = false;
    for (const char* seed : {"two", "three", "four", "five"})
        differs = differs || firmness(moment, seed).share != once.share;
    CHECK(differs);
}

TEST_CASE("less sure marks, less firm") {
    const MarkedMoment moment = slot_shot(1.2);
    std::vector<double> spread(16, 0.0);
    for (std::size_t i = 0; i < 4; ++i)
        spread[i * 5] = 0.5 * 0.5;
    const Firmness wide = firmness_of(moment, nhl, senior, Level::senior, "a moment", spread).value();
    CHECK(wide.share < firmness(moment).share);
    CHECK(wide.turns_on == "goalie");
}

TEST_CASE("a spread of another size is refused, a moment without places has no firmness") {
    const std::vector<double> spread(9, 0.01);
    CHECK_THROWS_AS(firmness_of(slot_shot(1.0), nhl, senior, Level::senior, "", spread),
                    std::invalid_argument);
    MarkedMoment nowhere = slot_shot(1.0);
    nowhere.puck.y_m = std::nan("");
    CHECK_FALSE(firmness_of(nowhere, nhl, senior, Level::senior, "").has_value());
}

TEST_CASE("where one setting decides, it is named") {
    // Everything but the lateral speed held still by ranges about nothing: a 2-on-1 with the goalie at the
    // outer end, turned by how fast he gets across.
    MarkedMoment moment;
    const std::vector<Threat> mate{{{-4.0, 7.0}, ReceiverKind::one_timer}};
    moment.puck = {5.0, 9.0};
    moment.threats = mate;
    moment.situation = Situation::rush;
    moment.stance = stance_from_mark(puck_line(moment.puck) * 1.4);
    const Firmness close = firmness(moment);
    CHECK(close.share < firm_from);
    CHECK_FALSE(close.turns_on.empty());
}
