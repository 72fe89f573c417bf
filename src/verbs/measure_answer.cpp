#include "verbs/measure.h"

#include "camera/fit_advice.h"
#include "depth/reason.h"
#include "depth/uncertainty.h"
#include "rink/units.h"
#include "verbs/json_reader.h"

namespace ropeline {
namespace {

Json pair(double a, double b) {
    return Json::array({a, b});
}
Json pair(IcePoint at) {
    return pair(at.x_m, at.y_m);
}
template <class T>
Json number_or_null(const std::optional<T>& value) {
    return value ? Json(*value) : Json(nullptr);
}

/// Places on the ice for what was marked: mapped by the fit, or taken as they are.
struct Ground {
    const RinkFit* fit = nullptr;
    double click_sigma_px = 1.0;

    std::optional<IcePoint> place(const Pair& at) const {
        if (fit == nullptr) return IcePoint{at[0], at[1]};
        return ice_at(*fit, {at[0], at[1]});
    }
};

Json answer_point(const Ground& ground, const Pair& at) {
    const std::optional<IcePoint> ice = ground.place(at);
    if (!ice) return {{"ice_m", nullptr}, {"sigma_m", nullptr}};
    const IceCovariance spread = ice_covariance(*ground.fit, {at[0], at[1]}, ground.click_sigma_px);
    return {{"ice_m", pair(*ice)}, {"sigma_m", pair(std::sqrt(spread.xx), std::sqrt(spread.yy))}};
}

void add_coverage(const Reading& reading, Json& to) {
    const std::optional<Coverage>& coverage = reading.coverage;
    to["net_angle_deg"] = coverage ? Json(to_degrees(coverage->net_angle_rad)) : Json(nullptr);
    to["coverage"] = coverage ? Json(coverage->covered) : Json(nullptr);
    to["open_short_deg"] = coverage ? Json(to_degrees(coverage->short_side.angle_rad)) : Json(nullptr);
    to["open_far_deg"] = coverage ? Json(to_degrees(coverage->far_side.angle_rad)) : Json(nullptr);
    to["open_short_m"] = coverage ? Json(coverage->short_side.goal_line_m) : Json(nullptr);
    to["open_far_m"] = coverage ? Json(coverage->far_side.goal_line_m) : Json(nullptr);
    to["net_seen"] = coverage ? Json(coverage->net_seen) : Json(nullptr);
    to["reaction_s"] = reading.reaction_s;
}

std::vector<Pair> marks_of(const MomentRequest& moment) {
    if (moment.skates) return {(*moment.skates)[0], (*moment.skates)[1], moment.puck};
    return {moment.goalie.value(), moment.puck};
}

/// What the decision model takes. A receiver above the horizon has no place and is left out.
struct AskedDecision {
    AskedDecision(const Ground& ground, const MomentRequest& asked, const Stance& stance, IcePoint puck) {
        for (const ThreatRequest& threat : asked.threats) {
            places.push_back(ground.place(threat.at));
            if (!places.back()) continue;
            threats.push_back(
                {*places.back(), threat.kind.value_or(usual_kind(*places.back())), threat.lane, threat.took});
            pixels.push_back({threat.at[0], threat.at[1]});
        }
        marked.stance = stance;
        marked.puck = puck;
        marked.threats = threats;
        marked.situation = asked.situation;
        marked.likelihood = asked.likelihood;
        marked.sight = asked.sight;
        marked.next = asked.next;
        if (!asked.before) return;
        if (const auto place = ground.place(asked.before->goalie))
            marked.before = Before{*place, asked.before->seconds};
    }
    AskedDecision(const AskedDecision&) = delete;
    AskedDecision& operator=(const AskedDecision&) = delete;

    std::vector<std::optional<IcePoint>> places;
    std::vector<Threat> threats; // before marked, which looks into it
    std::vector<ImagePoint> pixels;
    MarkedMoment marked;
};

void add_threats(const AskedDecision& asked, const Decision& decision, Json& to) {
    to["threats"] = Json::array();
    auto reading = decision.threats.begin();
    for (const std::optional<IcePoint>& place : asked.places) {
        Json one{{"ice_m", nullptr},  {"pass_s", nullptr},    {"have_s", nullptr},
                 {"late_s", nullptr}, {"arrives_m", nullptr}, {"open_on_arrival", nullptr}};
        if (place) {
            one["ice_m"] = pair(*place);
            one["pass_s"] = reading->pass_s;
            one["have_s"] = reading->have_s;
            one["late_s"] = reading->late_s;
            one["arrives_m"] = pair(reading->arrives_at);
            one["open_on_arrival"] = reading->open_on_arrival;
            ++reading;
        }
        to["threats"].push_back(one);
    }
}

Json answer_advice(const std::optional<Advice>& advice) {
    if (!advice) return nullptr;
    return {{"from_m", advice->from_m},
            {"to_m", advice->to_m},
            {"best_m", advice->best_m},
            {"limit", key_of(advice->limit)},
            {"threat", number_or_null(advice->threat)}};
}

/// Which of the request's threats the model's is: those without a place were left out.
std::size_t as_asked(const AskedDecision& asked, std::size_t threat) {
    std::size_t placed = 0;
    for (std::size_t i = 0; i < asked.places.size(); ++i) {
        if (!asked.places[i]) continue;
        if (placed++ == threat) return i;
    }
    return threat;
}

void add_decision(const AskedDecision& asked, Decision decision, Json& to) {
    to["on_post"] = decision.on_post;
    to["shot_open"] = decision.shot_open;
    to["left_open"] = decision.left;
    to["left_open_best"] = decision.advice ? Json(decision.advice->left_best) : Json(nullptr);
    to["gave_away"] = number_or_null(decision.gave_away);
    to["on_what_came"] = nullptr;
    if (decision.on_what_came) {
        to["on_what_came"] = {{"open", decision.on_what_came->open},
                              {"from_advised", decision.on_what_came->from_advised}};
    }
    add_threats(asked, decision, to);
    if (decision.advice && decision.advice->threat)
        decision.advice->threat = as_asked(asked, *decision.advice->threat);
    to["advised"] = answer_advice(decision.advice);
    to["verdict"] = key_of(decision.verdict);
}

/// Covariance of the marks where a fit maps them, in the order firmness_of() takes them.
std::vector<double> spread_of(const Ground& ground, std::vector<ImagePoint> pixels,
                              const AskedDecision& asked) {
    if (ground.fit == nullptr) return {};
    pixels.insert(pixels.end(), asked.pixels.begin(), asked.pixels.end());
    return joint_ice_covariance(*ground.fit, pixels, ground.click_sigma_px);
}

Json horizon(const std::string& mark) {
    return {{"verdict", key_of(Verdict::not_judged)},
            {"reason",
             fmt::format("the mark of the {} lies at or above the horizon: no place on the ice", mark)}};
}

Json answer_moment(const Ground& ground, const MomentRequest& moment, const MeasureRequest& request,
                   const std::string& name) {
    const std::vector<Pair> marks = marks_of(moment);
    std::vector<IcePoint> places;
    std::vector<ImagePoint> pixels;
    for (std::size_t i = 0; i < marks.size(); ++i) {
        const std::optional<IcePoint> place = ground.place(marks[i]);
        if (!place) return horizon(i + 1 == marks.size() ? "puck" : "goalie");
        places.push_back(*place);
        pixels.push_back({marks[i][0], marks[i][1]});
    }
    const IcePoint puck = places.back();
    const Stance stance =
        moment.skates ? stance_from_skates(places[0], places[1]) : stance_from_mark(places[0]);
    const AskedDecision asked(ground, moment, stance, puck);
    const RuleBook& rules = rule_book(request.rules);
    const Decision decision = decide(asked.marked, rules, request.parameters);
    const Reading& reading = decision.reading;
    std::optional<double> sigma;
    if (ground.fit != nullptr) {
        sigma = depth_sigma_m(stance, puck, joint_ice_covariance(*ground.fit, pixels, ground.click_sigma_px));
    }

    Json answer{{"goalie_m", pair(stance.goalie)},    {"puck_m", pair(puck)},
                {"depth_m", reading.depth_m},         {"depth_sigma_m", number_or_null(sigma)},
                {"off_angle_m", reading.off_angle_m}, {"crease_edge_m", reading.crease_edge_m},
                {"clearance_m", reading.clearance_m}, {"band", key_of(reading.band)}};
    const auto odds =
        band_odds(reading.depth_m, reading.clearance_m, sigma.value_or(0.0), request.parameters);
    for (std::size_t i = 0; i < odds.size(); ++i)
        answer["band_odds"][std::string(key_of(static_cast<Band>(i)))] = odds[i];
    answer["square_error_deg"] =
        reading.square_error_rad ? Json(to_degrees(*reading.square_error_rad)) : Json(nullptr);
    add_coverage(reading, answer);
    add_decision(asked, decision, answer);
    const std::optional<Firmness> firmness = firmness_of(
        asked.marked, rules, request.parameters, request.level, name, spread_of(ground, pixels, asked));
    answer["firm"] = firmness ? Json(firmness->share) : Json(nullptr);
    answer["turns_on"] = firmness && !firmness->turns_on.empty() ? Json(firmness->turns_on) : Json(nullptr);
    answer["reason"] = reason_for(asked.marked, decision, firmness, request.level, rules);
    return answer;
}

Json answer_fit(const RinkFit& fit) {
    Json residuals = Json::array(), curve_residuals = Json::array();
    for (const ImagePoint& residual : fit.residuals)
        residuals.push_back(pair(residual.x_px, residual.y_px));
    for (const ImagePoint& residual : fit.curve_residuals)
        curve_residuals.push_back(pair(residual.x_px, residual.y_px));
    return {{"rms_px", fit.rms_px},
            {"warnings", fit.warnings},
            {"ice_to_image", fit.image_from_ice},
            {"radial", fit.radial},
            {"click_sigma_px", fit.click_sigma_px},
            {"residuals_px", residuals},
            {"curve_residuals_px", curve_residuals}};
}

/// "the clicks agree better with the IIHF rule book", or empty.
std::string rule_book_doubt(const MeasureRequest& request, const FitOptions& options) {
    std::vector<NamedClick> named;
    for (std::size_t i = 0; i < request.names.size(); ++i) {
        if (!request.names[i].empty()) named.push_back({request.clicks.points[i].at, request.names[i]});
    }
    const auto better = better_rule_book(named, request.rules, request.image, options);
    if (!better) return {};
    return fmt::format("the clicks agree with the {} rule book, not with {}", rule_book(*better).name,
                       rule_book(request.rules).name);
}

RinkFit fit_for(const MeasureRequest& request) {
    const FitOptions options{request.click_sigma_px, request.lens};
    RinkFit fit;
    try {
        fit = fit_rink(request.clicks, request.image, options);
    } catch (const FitError& error) {
        if (error.fault != FitFault::outlier) throw;
        const std::string doubt = rule_book_doubt(request, options);
        if (doubt.empty()) throw;
        throw FitError(error.fault, fmt::format("{}; change \"rink\"", doubt));
    }
    const std::string doubt = rule_book_doubt(request, options);
    if (!doubt.empty()) fit.warnings.push_back(doubt);
    std::vector<ImagePoint> clicked;
    for (const LandmarkClick& click : request.clicks.points)
        clicked.push_back(click.at);
    for (const CurveClick& click : request.clicks.curves)
        clicked.push_back(click.at);
    for (std::size_t i = 0; i < request.points.size(); ++i) {
        if (!extrapolated(clicked, {request.points[i][0], request.points[i][1]})) continue;
        fit.warnings.push_back(fmt::format("points[{}] lies far outside the clicks: extrapolated", i));
    }
    return fit;
}

} // namespace

std::string answer_measure(const MeasureRequest& request) {
    std::optional<RinkFit> fit;
    if (!request.ice) fit = fit_for(request);
    const Ground ground{fit ? &*fit : nullptr, fit ? fit->click_sigma_px : request.click_sigma_px};

    Json answer{{"fit", fit ? answer_fit(*fit) : Json(nullptr)}, {"points", Json::array()}};
    for (const Pair& point : request.points)
        answer["points"].push_back(answer_point(ground, point));
    for (const ParameterFact& fact : parameter_facts()) {
        answer["parameters"][std::string(fact.key)] = parameter(request.parameters, fact.key).value();
    }
    answer["moments"] = Json::array();
    for (std::size_t i = 0; i < request.moments.size(); ++i) {
        answer["moments"].push_back(
            answer_moment(ground, request.moments[i], request, fmt::format("moments[{}]", i)));
    }
    return answer.dump(2);
}

} // namespace ropeline
