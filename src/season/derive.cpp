#include "season/derive.h"

#include "camera/turned.h"
#include "season/play.h"

#include "depth/uncertainty.h"

#include <algorithm>
#include <array>
#include <cmath>

namespace ropeline {
namespace {

const Mark* find_mark(const Moment& moment, MarkKind kind) {
    const auto found = std::find_if(moment.marks.begin(), moment.marks.end(),
                                    [&](const Mark& mark) { return mark.kind == kind; });
    return found == moment.marks.end() || !found->ice ? nullptr : &*found;
}

void put_on_ice(Mark& mark, const RinkFit& fit) {
    if (!mark.at) return;
    mark.ice = ice_at(fit, *mark.at);
    mark.sigma = std::nullopt;
    // Near the horizon a pixel is hundreds of metres: no place on a rink, and more than a season holds.
    constexpr double farthest_m = 200.0;
    if (mark.ice && (std::abs(mark.ice->x_m) > farthest_m || std::abs(mark.ice->y_m) > farthest_m))
        mark.ice = std::nullopt;
    if (mark.ice) mark.sigma = ice_covariance(fit, *mark.at, fit.click_sigma_px);
}

/// Row-major covariance of the marks' ice positions together; empty when some mark has none.
std::vector<double> covariance_of(const std::vector<const Mark*>& marks, const RinkFit* fit) {
    const bool clicked =
        std::all_of(marks.begin(), marks.end(), [](const Mark* mark) { return mark->at.has_value(); });
    if (fit && clicked) {
        std::vector<ImagePoint> at;
        for (const Mark* mark : marks)
            at.push_back(*mark->at);
        return joint_ice_covariance(*fit, at, fit->click_sigma_px);
    }
    const std::size_t size = 2 * marks.size();
    std::vector<double> covariance(size * size, 0.0);
    for (std::size_t i = 0; i < marks.size(); ++i) {
        if (!marks[i]->sigma) return {};
        double* block = covariance.data() + 2 * i * size + 2 * i;
        block[0] = marks[i]->sigma->xx;
        block[1] = block[size] = marks[i]->sigma->xy;
        block[size + 1] = marks[i]->sigma->yy;
    }
    return covariance;
}

} // namespace

void derive(Moment& moment, const RinkFit* fit, const RuleBook& rules, const Parameters& parameters) {
    if (fit)
        for (Mark& mark : moment.marks)
            put_on_ice(mark, *fit);
    moment.reading = std::nullopt;
    moment.depth_sigma_m = moment.band_odds_of_band = std::nullopt;
    moment.model_version = depth_model_version;

    const Mark* left = find_mark(moment, MarkKind::skate_left);
    const Mark* right = find_mark(moment, MarkKind::skate_right);
    const Mark* goalie = find_mark(moment, MarkKind::goalie);
    const Mark* puck = find_mark(moment, MarkKind::puck);
    const bool both_skates = left && right;
    if (!puck || (!both_skates && !goalie)) return;

    const Stance stance =
        both_skates ? stance_from_skates(*left->ice, *right->ice) : stance_from_mark(*goalie->ice);
    Reading reading = read_moment(stance, *puck->ice, rules, parameters);
    const std::vector<const Mark*> marks =
        both_skates ? std::vector{left, right, puck} : std::vector{goalie, puck};
    if (const auto covariance = covariance_of(marks, fit); !covariance.empty()) {
        moment.depth_sigma_m = depth_sigma_m(stance, *puck->ice, covariance);
        const auto odds = band_odds(reading.depth_m, reading.clearance_m, *moment.depth_sigma_m, parameters);
        const auto likeliest = std::max_element(odds.begin(), odds.end());
        reading.band = static_cast<Band>(likeliest - odds.begin());
        moment.band_odds_of_band = *likeliest;
    }
    moment.reading = reading;
}

RinkFit fit_for(const Shot& shot, const Moment& moment, const RinkFit& fit, const RuleBook& rules) {
    bool far_net = shot.far_net;
    if (!is_step(moment)) {
        constexpr std::array by = {MarkKind::goalie, MarkKind::skate_left, MarkKind::skate_right,
                                   MarkKind::puck};
        for (const MarkKind kind : by) {
            const auto mark = std::ranges::find(moment.marks, kind, &Mark::kind);
            if (mark == moment.marks.end() || !mark->at) continue;
            const auto place = ice_at(fit, *mark->at);
            if (!place) continue;
            far_net = place->y_m > rules.red_line_centre.m;
            break;
        }
    }
    return far_net ? turned(fit, rules) : fit;
}

} // namespace ropeline
