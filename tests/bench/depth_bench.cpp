// Decisions a second on one core: a thousand different moments in turn, two receivers each. Bars: 20 000 a
// second without firmness; firmness of one in 15 ms; a move of a drag in 16 ms.
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
    Season() {
        std::mt19937 random(1);
        const auto between = [&](double low, double high) {
            return std::uniform_real_distribution<double>{low, high}(random);
        };
        const auto polar = [&](double far, double angle) {
            return IcePoint{far * std::sin(angle), far * std::cos(angle)};
        };
        threats.resize(2 * count);
        for (Threat& threat : threats) {
            threat.at = polar(between(2.0, 15.0), between(-1.4, 1.4));
            threat.kind = between(0.0, 1.0) < 0.5 ? ReceiverKind::one_timer : ReceiverKind::stop;
        }
        for (std::size_t one = 0; one < count; ++one) {
            MarkedMoment& moment = moments.emplace_back();
            const double angle = between(-1.3, 1.3);
            moment.puck = polar(between(3.0, 20.0), angle);
            const IcePoint goalie = polar(between(0.4, 2.5), angle + between(-0.15, 0.15));
            const IcePoint half = polar(0.3, angle + 1.57 + between(-0.2, 0.2));
            moment.stance = stance_from_skates(goalie - half, goalie + half);
            moment.threats = std::span{threats}.subspan(2 * one, 2);
            moment.situation = Situation::rush;
            moment.next = one % 2 == 0 ? NextAction::shot : NextAction::pass;
        }
    }
    static constexpr std::size_t count = 1000;
    std::vector<Threat> threats;
    std::vector<MarkedMoment> moments;
};

void decisions(benchmark::State& state) {
    const Season season;
    for (auto _ : state)
        for (const MarkedMoment& moment : season.moments)
            benchmark::DoNotOptimize(decide(moment, nhl, senior));
    state.SetItemsProcessed(state.iterations() * static_cast<std::int64_t>(Season::count));
}

void firmness(benchmark::State& state) {
    const Season season;
    std::size_t at = 0;
    for (auto _ : state) {
        const MarkedMoment& moment = season.moments[at++ % Season::count];
        benchmark::DoNotOptimize(firmness_of(moment, nhl, senior, Level::senior, "bench"));
    }
}

/// What the desk does while a mark is dragged: the decision and its sentence; firmness follows after it.
void dragged(benchmark::State& state) {
    const Season season;
    std::size_t at = 0;
    for (auto _ : state) {
        const MarkedMoment& moment = season.moments[at++ % Season::count];
        const Decision decision = decide(moment, nhl, senior);
        benchmark::DoNotOptimize(reason_for(moment, decision, std::nullopt, Level::senior, nhl));
    }
}

} // namespace

BENCHMARK(decisions)->Unit(benchmark::kMillisecond);
BENCHMARK(firmness)->Unit(benchmark::kMillisecond);
BENCHMARK(dragged)->Unit(benchmark::kMicrosecond);
BENCHMARK_MAIN();
