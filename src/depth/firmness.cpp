#include "depth/firmness.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <stdexcept>
#include <utility>
#include <vector>

namespace ropeline {
namespace {

/// A millimetre in any direction crosses what this much along one of two axes crosses; milliseconds alike.
constexpr double next_to_nothing = 0.0015;

constexpr std::array<std::pair<std::string_view, std::string_view>, 4> mark_labels{
    {{"goalie", "where the goalie is marked"},
     {"puck", "where the puck is marked"},
     {"receiver", "where a receiver is marked"},
     {"before", "where the goalie stood before"}}};

/// Evenly drawn numbers, the same on every machine (splitmix64: Steele, Lea, Flood 2014).
class Draws {
public:
    explicit Draws(std::string_view seed) {
        for (const char letter : seed) // FNV-1a
            state_ = (state_ ^ static_cast<unsigned char>(letter)) * 1099511628211ULL;
    }
    double even() { // 0..1
        std::uint64_t z = (state_ += 0x9e3779b97f4a7c15ULL);
        z = (z ^ (z >> 30)) * 0xbf58476d1ce4e5b9ULL;
        z = (z ^ (z >> 27)) * 0x94d049bb133111ebULL;
        return static_cast<double>((z ^ (z >> 31)) >> 11) * 0x1.0p-53;
    }
    double normal() { // twelve even ones less six: to 6 sigma, and no logarithm of nothing
        double sum = -6.0;
        for (int i = 0; i < 12; ++i)
            sum += even();
        return sum;
    }

private:
    std::uint64_t state_ = 14695981039346656037ULL;
};

/// Lower triangle L with L L' = the covariance, no mark surer than `mark_m`.
std::vector<double> spread_root(std::span<const double> spread, std::size_t size) {
    if (!spread.empty() && spread.size() != size * size)
        throw std::invalid_argument("firmness_of: the spread does not match the marks");
    std::vector<double> root(size * size, 0.0);
    for (std::size_t row = 0; row < size; ++row) {
        for (std::size_t column = 0; column <= row; ++column) {
            double sum = spread.empty() ? 0.0 : spread[row * size + column];
            if (row == column) sum += mark_m * mark_m;
            for (std::size_t k = 0; k < column; ++k)
                sum -= root[row * size + k] * root[column * size + k];
            root[row * size + column] =
                row == column ? std::sqrt(std::max(sum, 0.0)) : sum / root[column * size + column];
        }
    }
    return root;
}

/// The moment with its marks moved, and how far each was moved, in draws of about 1.
struct MovedMoment {
    MovedMoment(const MarkedMoment& as_marked, std::span<const double> spread)
        : moment(as_marked), marked(as_marked), threats(as_marked.threats.begin(), as_marked.threats.end()) {
        const std::size_t feet = as_marked.stance.skates ? 2 : 1;
        root = spread_root(spread, 2 * (feet + 1 + threats.size()));
        moment.threats = threats;
    }
    MovedMoment(const MovedMoment&) = delete;
    MovedMoment& operator=(const MovedMoment&) = delete;

    std::size_t numbers() const { return moved.size(); }

    void draw(Draws& draws) {
        moved.clear();
        const std::size_t size = static_cast<std::size_t>(std::lround(std::sqrt(root.size())));
        std::vector<double> free(size);
        for (double& one : free)
            one = draws.normal();
        std::size_t at = 0;
        const auto next = [&] {
            double by = 0.0;
            for (std::size_t k = 0; k <= at; ++k)
                by += root[at * size + k] * free[k];
            ++at;
            moved.push_back(by);
            return by;
        };
        const auto shift = [&](IcePoint place) {
            const double right = next(), up = next();
            return IcePoint{place.x_m + right, place.y_m + up};
        };
        if (marked.stance.skates) {
            const IcePoint left = shift((*marked.stance.skates)[0]);
            moment.stance = stance_from_skates(left, shift((*marked.stance.skates)[1]));
        } else {
            moment.stance = stance_from_mark(shift(marked.stance.goalie));
        }
        moment.puck = shift(marked.puck);
        for (std::size_t i = 0; i < threats.size(); ++i)
            threats[i].at = shift(marked.threats[i].at);
        if (!marked.before) return;
        moved.push_back(mark_m * draws.normal());
        moved.push_back(mark_m * draws.normal());
        moved.push_back(frame_s * draws.normal());
        const std::size_t last = moved.size();
        moment.before->goalie = marked.before->goalie + IcePoint{moved[last - 3], moved[last - 2]};
        moment.before->seconds = std::max(0.0, marked.before->seconds + moved[last - 1]);
    }

    /// Which mark the number at this index moved.
    std::string_view name(std::size_t index) const {
        const std::size_t feet = marked.stance.skates ? 4 : 2;
        if (index < feet) return "goalie";
        if (index < feet + 2) return "puck";
        return index < feet + 2 + 2 * threats.size() ? "receiver" : "before";
    }

    MarkedMoment moment;
    const MarkedMoment& marked;
    std::vector<Threat> threats;
    std::vector<double> root, moved;
};

/// How much a drawn number goes with the verdict turning: the square of the correlation, of the number itself
/// or of how far it is from its middle, whichever is more.
double goes_with(std::span<const double> drawn, std::size_t stride, const std::vector<bool>& turned) {
    const auto count = static_cast<double>(turned.size());
    double mean = 0.0, turns = 0.0;
    for (std::size_t i = 0; i < turned.size(); ++i)
        mean += drawn[i * stride] / count, turns += turned[i] ? 1.0 / count : 0.0;
    const auto correlated = [&](bool folded) {
        double level = mean;
        if (folded) {
            level = 0.0;
            for (std::size_t i = 0; i < turned.size(); ++i)
                level += std::abs(drawn[i * stride] - mean) / count;
        }
        double with = 0.0, square = 0.0;
        for (std::size_t i = 0; i < turned.size(); ++i) {
            const double one = (folded ? std::abs(drawn[i * stride] - mean) : drawn[i * stride]) - level;
            with += one * ((turned[i] ? 1.0 : 0.0) - turns);
            square += one * one;
        }
        return square > 1e-12 ? with * with / square : 0.0;
    };
    return std::max(correlated(false), correlated(true));
}

std::vector<ParameterRange> ranges_about(Parameters in_force, Level level) {
    std::vector<ParameterRange> ranges;
    for (const ParameterFact& fact : parameter_facts())
        ranges.push_back(range_of(fact, level, parameter_at(in_force, ranges.size())));
    return ranges;
}

/// As many draws below the value in force as above it: a range that lies to one side would else call the
/// verdict at its middle firm, and not the one in force.
Parameters drawn_parameters(Parameters in_force, std::span<const ParameterRange> ranges, Draws& draws,
                            std::vector<double>& numbers) {
    for (std::size_t index = 0; index < ranges.size(); ++index) {
        const double share = 2.0 * draws.even() - 1.0;
        numbers.push_back(share);
        double& value = parameter_at(in_force, index);
        value += share * (share < 0.0 ? value - ranges[index].low : ranges[index].high - value);
    }
    return in_force;
}

struct KnifeEdge {
    Verdict becomes = Verdict::not_judged;
    std::string_view turns_on;
};

MarkedMoment with_goalie_moved(MarkedMoment moment, IcePoint by) {
    moment.stance = moment.stance.skates
                        ? stance_from_skates((*moment.stance.skates)[0] + by, (*moment.stance.skates)[1] + by)
                        : stance_from_mark(moment.stance.goalie + by);
    return moment;
}

/// What turns the verdict by next to nothing: a mark by a millimetre or so, a time by as many milliseconds, a
/// speed by a hundredth of a metre a second.
std::optional<KnifeEdge> on_a_knife_edge(const MarkedMoment& marked, Verdict verdict, const RuleBook& rules,
                                         const Parameters& parameters) {
    const auto turns = [&](const MarkedMoment& moment, const Parameters& with, std::string_view what) {
        const Verdict now = verdict_of(moment, rules, with);
        return now != verdict ? std::optional{KnifeEdge{now, what}} : std::nullopt;
    };
    // Whatever way a millimetre goes, a little more of it along one of two axes crosses the same edge.
    const IcePoint along = puck_line(marked.puck) * next_to_nothing, across{along.y_m, -along.x_m};
    for (const IcePoint by : {along, along * -1.0, across, across * -1.0}) {
        if (const auto edge = turns(with_goalie_moved(marked, by), parameters, "goalie")) return edge;
        MarkedMoment moment = marked;
        moment.puck = marked.puck + by;
        if (const auto edge = turns(moment, parameters, "puck")) return edge;
        std::vector<Threat> threats(marked.threats.begin(), marked.threats.end());
        moment = marked;
        moment.threats = threats;
        for (Threat& threat : threats) {
            const IcePoint at = threat.at;
            threat.at = at + by;
            if (const auto edge = turns(moment, parameters, "receiver")) return edge;
            threat.at = at;
        }
    }
    for (const double by : {next_to_nothing, -next_to_nothing}) {
        if (marked.before) {
            MarkedMoment moment = marked;
            moment.before->seconds = std::max(0.0, marked.before->seconds + by);
            if (const auto edge = turns(moment, parameters, "before")) return edge;
        }
        for (const auto& [key, step] : {std::pair{"see_s", by}, std::pair{"pass_speed_mps", 10.0 * by},
                                        std::pair{"lateral_speed_mps", 10.0 * by}}) {
            Parameters with = parameters;
            const ParameterFact& fact = *find_parameter(key);
            parameter_at(with, static_cast<std::size_t>(&fact - parameter_facts().data())) += step;
            if (const auto edge = turns(marked, with, fact.key)) return edge;
        }
    }
    return std::nullopt;
}

} // namespace

std::optional<Firmness> firmness_of(const MarkedMoment& moment, const RuleBook& rules,
                                    const Parameters& parameters, Level level, std::string_view seed,
                                    std::span<const double> spread) {
    const Verdict verdict = verdict_of(moment, rules, parameters);
    if (verdict == Verdict::not_judged) return std::nullopt;
    const std::vector<ParameterRange> ranges = ranges_about(parameters, level);
    MovedMoment moved(moment, spread);
    Draws draws(seed);
    std::vector<double> numbers;
    std::vector<bool> turned;
    std::array<int, 8> counts{};
    for (int draw = 0; draw < firmness_draws; ++draw) {
        const Parameters drawn = drawn_parameters(parameters, ranges, draws, numbers);
        moved.draw(draws);
        numbers.insert(numbers.end(), moved.moved.begin(), moved.moved.end());
        const Verdict now = verdict_of(moved.moment, rules, drawn);
        turned.push_back(now != verdict);
        if (now != verdict) ++counts.at(static_cast<std::size_t>(now));
    }
    Firmness firmness;
    const auto other = std::ranges::count(turned, true);
    firmness.share = 1.0 - static_cast<double>(other) / firmness_draws;
    if (firmness.share >= firm_from) {
        if (const auto edge = on_a_knife_edge(moment, verdict, rules, parameters))
            return Firmness{firm_from - 0.01, edge->turns_on, edge->becomes};
    }
    if (other == 0) return firmness;
    firmness.becomes = static_cast<Verdict>(std::ranges::max_element(counts) - counts.begin());
    const std::size_t stride = numbers.size() / firmness_draws, settings = parameter_facts().size();
    double most = -1.0;
    for (std::size_t index = 0; index < stride; ++index) {
        const double with = goes_with(std::span{numbers}.subspan(index), stride, turned);
        if (with <= most) continue;
        most = with;
        firmness.turns_on = index < settings ? parameter_facts()[index].key : moved.name(index - settings);
    }
    return firmness;
}

int same_of_100(const Firmness& firmness) {
    return static_cast<int>(100.0 * firmness.share + 1e-6);
}

std::string_view label_of_turn(std::string_view turns_on) {
    if (const ParameterFact* fact = find_parameter(turns_on)) return fact->label;
    for (const auto& [key, label] : mark_labels)
        if (key == turns_on) return label;
    return {};
}

std::string_view turn_from_key(std::string_view key) {
    if (const ParameterFact* fact = find_parameter(key)) return fact->key;
    for (const auto& [known, label] : mark_labels)
        if (key == known) return known;
    return {};
}

} // namespace ropeline
