// Decisions a second on one core: a thousand different moments in turn, two threats each, half of them shots
// and half passes (a shot also asks what standing off the line opened). Bar: 1 000 000 a second.
#include "depth/reason.h"

#include <benchmark/benchmark.h>

#include <random>
#include <vector>

using namespace ropeline;

namespace {

const RuleBook& nhl = rule_book(RuleBookId::nhl);
const Parameters senior = parameters_for(Level::senior);

/// Like a season's: the puck up to twenty metres out, the goalie near its line, both skates marked.
struct Season {
    explicit Season(std::optional<NextAction> only) {
        std::mt19937 random(1);
        const auto between = [&](double low, double high) {
            return std::uniform_real_distribution<double>{low, high}(random);
        };
        const auto polar = [&](double far, double angle) {
            return IcePoint{far * std::sin(angle), far * std::cos(angle)};
        };
        threats.resize(2 * count);
        for (Threat& threat : threats)
            threat = {polar(between(2.0, 15.0), between(-1.4, 1.4)), between(0.0, 1.0) < 0.5, true};
        for (std::size_t one = 0; one < count; ++one) {
            MarkedMoment& moment = moments.emplace_back();
            const double angle = between(-1.3, 1.3);
            moment.puck = polar(between(3.0, 20.0), angle);
            const IcePoint goalie = polar(between(0.4, 2.5), angle + between(-0.15, 0.15));
            const IcePoint half = polar(0.3, angle + 1.57 + between(-0.2, 0.2));
            moment.stance = stance_from_skates(goalie - half, goalie + half);
            moment.threats = std::span{threats}.subspan(2 * one, 2);
            moment.situation = Situation::rush;
            moment.next = only.value_or(one % 2 == 0 ? NextAction::shot : NextAction::pass);
        }
    }
    static constexpr std::size_t count = 1000;
    std::vector<Threat> threats;
    std::vector<MarkedMoment> moments;
};

void decisions(benchmark::State& state, std::optional<NextAction> only) {
    const Season season(only);
    for (auto _ : state)
        for (const MarkedMoment& moment : season.moments)
            benchmark::DoNotOptimize(decide(moment, nhl, senior));
    state.SetItemsProcessed(state.iterations() * static_cast<std::int64_t>(Season::count));
}

/// What the desk does while a mark is dragged: the decision, where it would flip, the sentence. Bar: 2 ms.
void dragged(benchmark::State& state) {
    const Season season(std::nullopt);
    std::size_t at = 0;
    for (auto _ : state) {
        const MarkedMoment& moment = season.moments[at++ % Season::count];
        const Decision decision = decide(moment, nhl, senior);
        const std::vector<Flip> flips = find_flips(moment, nhl, senior, Level::senior);
        benchmark::DoNotOptimize(reason_for(moment, decision, flips, Level::senior));
    }
}

} // namespace

BENCHMARK_CAPTURE(decisions, shots_and_passes, std::nullopt)->Unit(benchmark::kMicrosecond);
BENCHMARK_CAPTURE(decisions, shots, NextAction::shot)->Unit(benchmark::kMicrosecond);
BENCHMARK_CAPTURE(decisions, passes, NextAction::pass)->Unit(benchmark::kMicrosecond);
BENCHMARK(dragged)->Unit(benchmark::kMicrosecond);
BENCHMARK_MAIN();
