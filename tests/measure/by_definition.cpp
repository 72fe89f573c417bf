#include "measure/by_definition.h"

#include <algorithm>
#include <cmath>
#include <functional>
#include <limits>

namespace ropeline::by_definition {
namespace {

constexpr double soft = 0.10; ///< metres over which a yes becomes a no
constexpr double never = std::numeric_limits<double>::infinity();

/// Whoever may shoot next: the carrier's mates, or the two nobody marks at a rebound.
struct Shooter {
    Place at;
    double pass_s = 0.0, have_s = 0.0, counts = 0.0, weight = 0.0;
};

/// One play's questions, asked of any place the goalie may stand at.
class Play {
public:
    Play(const Moment& moment, const RuleBook& rules, const Settings& settings)
        : moment_(moment), rules_(rules), settings_(settings) {
        for (const Opponent& threat : moment.threats)
            shooters_.push_back(shooter(threat));
        if (moment.situation == "rebound") add_loose_puck();
        double largest = 0.0, sum = 0.0;
        for (const Shooter& one : shooters_) {
            largest = std::max(largest, one.weight);
            somebody_ = std::max(somebody_, one.counts);
            sum += one.weight;
        }
        const double chance = moment.likelihood == "shot"   ? settings.chance_shot
                              : moment.likelihood == "pass" ? settings.chance_pass
                                                            : settings.chance_either;
        pass_chance_ = chance * largest;
        for (const Shooter& one : shooters_)
            shares_.push_back(sum > 0.0 ? pass_chance_ * one.weight / sum : 0.0);
    }

    /// Share of the mouth that a shot finds, neither hidden nor reached: summed over slices of the mouth. Two
    /// of its edges are soft: from the last ten centimetres before the goal line less and less of the mouth
    /// can be hit, and over the last ten towards the shooter the goalie hides less and less.
    double open(Place from, Place goalie, double screened_s) const {
        const double hittable = std::clamp(from.imag() / soft, 0.0, 1.0);
        const double before = std::abs(from) - dot(goalie, from) / std::abs(from);
        const double hiding = std::clamp(before / soft, 0.0, 1.0);
        if (hittable == 0.0 || hiding == 0.0) return hittable;
        const double away = std::abs(from - goalie);
        const double seen_s = settings_.see_s + screened_s;
        const double reach =
            std::min(settings_.reach_most_m,
                     settings_.reach_speed_mps * std::max(0.0, away / settings_.shot_speed_mps - seen_s));
        const double hidden = hidden_area(from, goalie, settings_.block_width_m / 2 + reach,
                                          settings_.block_height_m + reach, rules_);
        return hittable * (1.0 - hiding * hidden / (2.0 * rules_.post_half_gap.m * rules_.net_height.m));
    }

    /// A puck that is seen partly is seen half as late as one that is screened.
    double shot_open(Place goalie) const {
        const double hidden = moment_.sight == "screened" ? 1.0 : moment_.sight == "partly" ? 0.5 : 0.0;
        return open(moment_.puck, goalie, hidden * settings_.screen_s);
    }

    /// Where the goalie is when a shooter shoots: the best of all pushes towards a place on the new line, to its
    /// end or only some of the way. First on a coarse grid, then on finer ones around the best. Some of the way
    /// counts only clear of the receiver: less and less over the last ten centimetres of his body.
    Arrival arrival(Place goalie, const Shooter& to) const {
        const double can = settings_.lateral_speed_mps * std::max(0.0, to.have_s - settings_.see_s);
        const double last = std::max(nearest_out, furthest_out(to.at, settings_.body_m));
        Arrival best{to.pass_s, to.have_s, 0.0, goalie, never};
        double best_out = nearest_out, best_share = 1.0, whole_way = 1.0;
        const Place line = direction_of(to.at);
        const auto try_push = [&](double out, double share) {
            const Pushed ends = pushed(goalie, out * line, can, share, to.at);
            const auto open_from = [&](Place at) {
                const double there = open(to.at, at, 0.0);
                const double inside = share < 1.0 ? settings_.body_m - std::abs(at - to.at) : 0.0;
                return there + std::max(0.0, whole_way - there) * std::clamp(inside / soft, 0.0, 1.0);
            };
            const double held = ends.held > 0.0 ? open_from(ends.stopped) * ends.held : 0.0;
            const double found = open_from(ends.free) * (1.0 - ends.held) + held;
            if (found >= best.open) return;
            best.at = ends.held < 0.5 ? ends.free : ends.stopped;
            best.open = found;
            best_out = out;
            best_share = share;
        };
        const auto try_shares = [&](double least_share, double most_share) {
            double step = 0.10, part = 0.25;
            for (double out = nearest_out; out < last + step; out += step)
                for (double share = least_share; share <= most_share; share += part)
                    try_push(std::min(out, last), share);
            for (int round = 0; round < 4; ++round, step /= 2, part /= 2) {
                const double out = best_out, share = best_share;
                for (int i_out = -2; i_out <= 2; ++i_out)
                    for (int i_share = -2; i_share <= 2; ++i_share)
                        try_push(std::clamp(out + i_out * step / 2, nearest_out, last),
                                 std::clamp(share + i_share * part / 2, least_share, most_share));
            }
        };
        try_shares(1.0, 1.0);
        whole_way = best.open;
        if (whole_way > 0.0) try_shares(0.0, 1.0);
        // Late is who is not yet on the new line, at its nearest point before the man.
        const double before_him = std::max(last, std::abs(to.at) - settings_.body_m);
        const double nearest = std::clamp(parts_along(goalie, to.at).along, nearest_out, before_him);
        const double way = std::abs(nearest * line - goalie);
        best.late_s = std::max(0.0, way - can) / settings_.lateral_speed_mps;
        return best;
    }

    double left(Place goalie) const {
        return (1.0 - pass_chance_) * shot_open(goalie) + left_by_passes(goalie);
    }
    double left_by_passes(Place goalie) const {
        double sum = 0.0;
        for (std::size_t one = 0; one < shooters_.size(); ++one)
            if (shares_[one] > 0.0) sum += shares_[one] * arrival(goalie, shooters_[one]).open;
        return sum;
    }

    bool home() const { return moment_.puck.imag() >= rules_.red_line_centre.m; }
    const std::vector<Shooter>& shooters() const { return shooters_; }

    /// How far out the advice looks on the line to the puck: less and less from the blue to the red line.
    double furthest_for_puck(double gap) const {
        if (home()) return settings_.home_m;
        double furthest = furthest_out(moment_.puck, gap);
        if (moment_.likelihood == "pass") {
            const double inside = crease_edge(moment_.puck, rules_) - settings_.base_half_width_m;
            furthest -= (1.0 - somebody_) * std::max(0.0, furthest - inside);
        }
        const double blue = rules_.blue_line_centre.m, red = rules_.red_line_centre.m;
        const double shrunk = std::clamp((moment_.puck.imag() - blue) / (red - blue), 0.0, 1.0);
        furthest += shrunk * (settings_.home_m - furthest);
        return std::max(0.0, furthest);
    }

private:
    static constexpr double nearest_out = 0.2;

    Shooter shooter(const Opponent& threat) const {
        const double way = std::abs(threat.at - moment_.puck);
        Shooter one{threat.at};
        one.pass_s = way / (threat.kind == "tip" ? settings_.shot_speed_mps : settings_.pass_speed_mps);
        one.have_s = one.pass_s + (threat.kind == "one_timer" ? settings_.one_timer_s
                                   : threat.kind == "stop"    ? settings_.catch_and_shoot_s
                                                              : 0.0);
        one.counts = counts(threat.at);
        one.weight = one.counts * (threat.lane == "contested" ? settings_.contested : 1.0);
        return one;
    }

    /// Who stands at the goal line or behind it cannot shoot, nor who is beyond the blue line; over the last
    /// ten centimetres before either he counts less and less.
    double counts(Place at) const {
        return std::clamp(std::min(at.imag(), rules_.blue_line_centre.m - at.imag()) / soft, 0.0, 1.0);
    }

    void add_loose_puck() {
        for (const double side : {-settings_.loose_m, settings_.loose_m}) {
            Place at = moment_.puck + side * direction_of(moment_.puck) / i;
            at = {at.real(), std::max(at.imag(), 0.5)};
            shooters_.push_back({at, 0.0, settings_.loose_s, counts(at), counts(at)});
        }
    }

    /// Where a push ends, a share of the way he can go straight towards a place: unhindered, and where the receiver
    /// is as near as his body lets anybody come, or as the goalie was already. Who meets the last ten centimetres
    /// of his body, his shoulder, is held in part, and so is who starts within ten centimetres of his middle.
    struct Pushed {
        Place free, stopped;
        double held = 0.0;
    };
    Pushed pushed(Place goalie, Place aim, double can, double share, Place receiver) const {
        const double whole = std::abs(aim - goalie);
        if (whole == 0.0) return {goalie, goalie};
        const Place way = (aim - goalie) / whole;
        const double far = std::min(whole, can);
        const double apart = std::abs(receiver - goalie), body = std::min(settings_.body_m, apart);
        const double along = dot(receiver - goalie, way);
        const double beside = std::abs(dot(receiver - goalie, way * i));
        Pushed ends{goalie + share * far * way, goalie};
        if (along <= 0.0 || beside >= body) return ends;
        const auto free = [&](double there) { return std::abs(goalie + there * way - receiver) >= body; };
        ends.stopped += share * std::min(far, change_between(0.0, along, free)) * way;
        const double shoulder = soft * body / settings_.body_m;
        ends.held = std::min(1.0, (body - beside) / shoulder) * std::min(1.0, apart / soft);
        return ends;
    }

    /// The crease's edge and what the situation allows beyond it, and so far from whoever has the puck.
    double furthest_out(Place at, double gap) const {
        const std::string& situation = moment_.situation;
        const double beyond = situation == "rush"           ? settings_.beyond_rush_m
                              : situation == "penalty_kill" ? settings_.beyond_penalty_kill_m
                              : situation == "breakaway"    ? settings_.beyond_breakaway_m
                              : situation == "rebound"      ? settings_.beyond_rebound_m
                                                            : settings_.beyond_zone_m;
        return std::min(crease_edge(at, rules_) + beyond, std::abs(at) - gap);
    }

    const Moment& moment_;
    const RuleBook& rules_;
    const Settings& settings_;
    std::vector<Shooter> shooters_;
    std::vector<double> shares_;
    double pass_chance_ = 0.0;
    double somebody_ = 0.0; ///< 1: there is a receiver who counts
};

/// Every four centimetres of the puck line, the least, and how far it stays as good around that.
Stretch advise(const Play& play, const Moment& moment, const Settings& settings) {
    Stretch stretch;
    stretch.furthest = play.furthest_for_puck(settings.gap_m);
    const auto left_at = [&](double depth) { return play.left(on_puck_line(moment, depth)); };
    const int steps = std::max(1, static_cast<int>(std::ceil(stretch.furthest / 0.04)));
    const double step = stretch.furthest / steps;
    std::vector<double> left;
    for (int one = 0; one <= steps; ++one)
        left.push_back(left_at(one * step));
    const auto least = static_cast<int>(std::ranges::min_element(left) - left.begin());
    stretch.best = least * step;
    stretch.left_best = left[static_cast<std::size_t>(least)];
    for (int part = -9; part <= 9; ++part) {
        const double depth = std::clamp((least + part / 10.0) * step, 0.0, stretch.furthest);
        if (const double there = left_at(depth); there < stretch.left_best) {
            stretch.left_best = there;
            stretch.best = depth;
        }
    }
    const auto good = [&](double depth) { return left_at(depth) <= stretch.left_best + settings.worth; };
    const auto last_good = [&](int way, int end) {
        int at = least;
        while (at != end && left[static_cast<std::size_t>(at + way)] <= stretch.left_best + settings.worth)
            at += way;
        return at == end ? end * step : change_between(at * step, (at + way) * step, good);
    };
    stretch.from = last_good(-1, 0);
    stretch.to = last_good(1, steps);
    if (play.home()) {
        stretch.from = 0.0;
        stretch.to = settings.home_m;
    }
    return stretch;
}

/// Asks whether one is more than the other and notes how near that was.
bool more(double one, double other, double& doubt) {
    doubt = std::min(doubt, std::abs(one - other));
    return one > other;
}

/// The post on the puck's side; behind the net itself, either.
bool at_a_post(const Moment& moment, const RuleBook& rules, double& doubt) {
    const auto at = [&](double x) { return more(0.5, std::abs(moment.goalie - x), doubt); };
    const double half = rules.post_half_gap.m;
    if (moment.puck.imag() <= 0.0 && std::abs(moment.puck.real()) <= half) return at(-half) || at(half);
    return at(moment.puck.real() < 0.0 ? -half : half);
}

/// How much more a post is open than it would be from the line.
double opened_beside_line(const Moment& moment, double depth, const RuleBook& rules,
                          const Settings& settings) {
    const auto here = look(moment.puck, moment.goalie, std::nullopt, settings.block_width_m,
                           settings.block_height_m, rules);
    const auto there = look(moment.puck, on_puck_line(moment, std::max(depth, 0.0)), std::nullopt,
                            settings.block_width_m, settings.block_height_m, rules);
    return std::max(here->left_m - there->left_m, here->right_m - there->right_m);
}

std::string verdict_on_ice(const Play& play, const Moment& moment, const RuleBook& rules,
                           const Settings& settings, Answer& answer) {
    bool beaten = false;
    if (moment.before) {
        const double can =
            settings.lateral_speed_mps * std::max(0.0, moment.before->seconds - settings.see_s);
        const Parts start = parts_along(moment.before->goalie, moment.puck);
        beaten = more(std::abs(start.right), can, answer.doubt.across_m);
        answer.reachable = std::max(0.0, start.along + std::max(0.0, can - std::abs(start.right)));
    }
    answer.judged_from = std::min(answer.advised->from, answer.reachable.value_or(never));
    const bool further = answer.depth > answer.advised->to + settings.depth_tolerance_m;
    if (further || answer.depth < answer.judged_from - settings.depth_tolerance_m) {
        // What so much depth costs, on the line: what he stands beside it is not the depth's fault.
        const Place there = on_puck_line(moment, answer.depth);
        const Place best = on_puck_line(moment, answer.advised->best);
        const double cost = play.left(there) - play.left(best);
        const bool dear = more(std::min(cost, *answer.gave_away), settings.worth, answer.doubt.worth_of_cost);
        if (!further && dear) return beaten ? "beaten_across" : "sat_back";
        const double by_passes = play.left_by_passes(there) - play.left_by_passes(best);
        if (further && dear)
            return more(by_passes, cost / 2, answer.doubt.half_of_cost) ? "over_challenged" : "too_far_out";
        // Further out than the situation allows, however near the puck is.
        const double allowed = play.furthest_for_puck(-never) + settings.depth_tolerance_m;
        if (further && more(answer.depth, allowed, answer.doubt.allowed_m)) return "too_far_out";
    }
    const double opened = opened_beside_line(moment, answer.depth, rules, settings);
    if (!more(opened, settings.angle_tolerance_m, answer.doubt.opened_m)) return "right_depth";
    return beaten ? "beaten_across" : "off_angle";
}

void place_in_band(const Settings& settings, Answer& answer) {
    answer.band_doubt_m = never;
    const auto over = [&](double one, double other) { return more(one, other, answer.band_doubt_m); };
    answer.band = over(settings.defensive_depth_m, answer.depth)        ? "defensive"
                  : over(-settings.base_half_width_m, answer.clearance) ? "conservative"
                  : over(answer.clearance, settings.base_half_width_m)  ? "aggressive"
                                                                        : "base";
}

} // namespace

Place on_puck_line(const Moment& moment, double depth) {
    return depth * direction_of(moment.puck);
}

double left_open(const Moment& moment, Place goalie, const RuleBook& rules, const Settings& settings) {
    return Play(moment, rules, settings).left(goalie);
}

std::optional<double> open_to_what_came(const Moment& moment, Place goalie, const RuleBook& rules,
                                        const Settings& settings) {
    const Play play(moment, rules, settings);
    for (std::size_t one = 0; one < moment.threats.size(); ++one) {
        const Opponent& threat = moment.threats[one];
        const bool his = moment.next == "pass" || (moment.next == "shot" && threat.kind == "tip");
        if (threat.took && his) return play.arrival(goalie, play.shooters()[one]).open;
    }
    if (moment.next == "shot") return play.shot_open(goalie);
    return std::nullopt;
}

Answer answer(const Moment& moment, const RuleBook& rules, const Settings& settings) {
    const Play play(moment, rules, settings);
    Answer answer;
    const Parts line = parts_along(moment.goalie, moment.puck);
    answer.depth = line.along;
    answer.off = line.right;
    answer.edge = crease_edge(moment.puck, rules);
    answer.clearance = answer.depth - answer.edge;
    if (moment.skates)
        answer.square_error =
            std::arg((moment.puck - moment.goalie) / ((moment.skates->second - moment.skates->first) * i));
    answer.seen = look(moment.puck, moment.goalie, moment.skates, settings.block_width_m,
                       settings.block_height_m, rules);
    answer.reaction_s = std::abs(moment.puck - moment.goalie) / settings.shot_speed_mps;
    answer.shot_open = play.shot_open(moment.goalie);
    answer.left = play.left(moment.goalie);
    for (std::size_t one = 0; one < moment.threats.size(); ++one)
        answer.arrivals.push_back(play.arrival(moment.goalie, play.shooters()[one]));
    answer.doubt = {never, never, never, never, never, never};
    place_in_band(settings, answer);

    const double looks_wide = 2.0 * rules.post_half_gap.m * moment.puck.imag() / std::abs(moment.puck);
    answer.on_post =
        moment.puck.imag() <= 0.0 || (looks_wide <= settings.block_width_m && moment.puck.imag() < 3.0);
    if (answer.on_post) {
        const bool there = at_a_post(moment, rules, answer.doubt.post_m);
        answer.verdict = there ? "right_depth" : "off_the_post";
    } else {
        answer.advised = advise(play, moment, settings);
        answer.gave_away = answer.left - answer.advised->left_best;
        answer.verdict = verdict_on_ice(play, moment, rules, settings, answer);
    }
    return answer;
}

} // namespace ropeline::by_definition
