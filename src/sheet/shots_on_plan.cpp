#include "rink/paint.h"
#include "rink/units.h"
#include "sheet/chart_parts.h"
#include "sheet/season_charts.h"
#include "sheet/share_words.h"
#include "sheet/text.h"
#include "tally/decision.h"

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <tuple>
#include <utility>

namespace ropeline {
namespace {

using namespace chart;

constexpr std::size_t most_single_shots = 250;
constexpr int fewest_for_a_colour =
    10; ///< attempts; under that a goal more or less turns it over: own choice
constexpr double lowest_m = -4.0, highest_m = 21.5; ///< of the ice shown
constexpr double furthest_shown_m =
    19.5; ///< of the shots: the near blue line, with room for a field's corners
constexpr double no_depth_size = 0.013;
constexpr double field_m = 1.25; ///< from the middle of a six-cornered field to its corner

struct PlanScale {
    double half_width_m;
    explicit PlanScale(const RuleBook& rules) : half_width_m(0.5 * rules.rink_width.m + 0.2) {}
    ScenePoint operator()(IcePoint at) const {
        const double metre = 1.0 / (2.0 * half_width_m);
        return {0.5 + at.x_m * metre, (highest_m - at.y_m) * metre};
    }
    IcePoint ice(ScenePoint at) const {
        return {2.0 * half_width_m * (at.x - 0.5), highest_m - 2.0 * half_width_m * at.y};
    }
};

/// Brings an end that is beyond the ice shown back to its edge.
void cut_at_the_top(IcePoint& end, const IcePoint& other) {
    if (end.y_m <= highest_m) return;
    const double share = (highest_m - other.y_m) / (end.y_m - other.y_m);
    end = {other.x_m + share * (end.x_m - other.x_m), highest_m};
}

void add_paint(Scene& scene, const PlanScale& place, const RuleBook& rules) {
    for (const PaintLine& paint : rink_paint(rules)) {
        const bool spot =
            paint.kind == PaintKind::spot || paint.kind == PaintKind::l_mark || paint.kind == PaintKind::hash;
        if (spot) continue;
        for (std::size_t i = 1; i < paint.points.size(); ++i) {
            IcePoint a = paint.points[i - 1], b = paint.points[i];
            if (std::max(a.y_m, b.y_m) < lowest_m || std::min(a.y_m, b.y_m) > highest_m) continue;
            cut_at_the_top(a, b);
            cut_at_the_top(b, a);
            const bool near_net = paint.kind == PaintKind::crease || paint.kind == PaintKind::net ||
                                  paint.kind == PaintKind::goal_line;
            line(scene, place(a), place(b), near_net ? 0.003 : 0.002, near_net ? Ink::quiet_text : Ink::rule);
        }
    }
}

Shape shape_of(const std::optional<Band>& band) {
    if (!band) return Shape::disc; // small, and grey where it was no goal
    constexpr std::array shapes = {Shape::square, Shape::diamond, Shape::disc, Shape::triangle};
    return shapes.at(static_cast<std::size_t>(*band));
}

bool is_shown(const ShotFact& fact) {
    return fact.puck_at && was_goal(fact) && fact.puck_at->y_m > lowest_m &&
           fact.puck_at->y_m < furthest_shown_m;
}

void add_single_shots(Scene& scene, const PlanScale& place, std::span<const ShotFact> facts) {
    for (const bool goals : {false, true}) // goals on top
        for (const ShotFact& fact : facts) {
            if (!is_shown(fact) || *was_goal(fact) != goals) continue;
            const auto band = decision_of(fact).band;
            const Ink ink = goals ? Ink::goal : band ? Ink::save : Ink::other;
            shape(scene, place(*fact.puck_at), shape_of(band), ink, goals, band ? 0.024 : no_depth_size);
            stands_for_shot(scene, place(*fact.puck_at), fact.shot_id);
        }
}

/// Column and row of the six-cornered field a place lies in: the nearer of two staggered grids' middles.
std::pair<int, int> field_of(IcePoint at) {
    const double wide = field_m * std::sqrt(3.0), high = 1.5 * field_m;
    std::pair<int, int> best;
    double nearest = 1e9;
    const int about = static_cast<int>(std::lround(at.y_m / high));
    for (int row = about - 1; row <= about + 1; ++row) {
        const double shift = row % 2 == 0 ? 0.0 : 0.5;
        const int column = static_cast<int>(std::lround(at.x_m / wide - shift));
        const double apart = std::hypot(at.x_m - (column + shift) * wide, at.y_m - row * high);
        if (apart < nearest) best = {column, row};
        nearest = std::min(nearest, apart);
    }
    return best;
}

/// Goals of attempts, or their share where a field has no room for so many figures.
std::string field_words(Share share) {
    constexpr std::size_t most_signs = 6;
    const std::string words = fmt::format("{}/{}", share.hits, share.of);
    return words.size() <= most_signs ? words : percentage_text(static_cast<double>(share.hits) / share.of);
}

/// Colours the fields, and leaves their figures to be written over the paint.
std::vector<SceneText> add_fields(Scene& scene, const PlanScale& place, std::span<const ShotFact> facts) {
    std::map<std::pair<int, int>, Share> fields;
    for (const ShotFact& fact : facts) {
        if (!is_shown(fact)) continue;
        add_to(fields[field_of(*fact.puck_at)], *was_goal(fact));
    }
    std::vector<SceneText> figures;
    for (const auto& [field, share] : fields) {
        const double shift = field.second % 2 == 0 ? 0.0 : 0.5;
        const IcePoint middle{(field.first + shift) * field_m * std::sqrt(3.0), 1.5 * field_m * field.second};
        const double of = static_cast<double>(share.hits) / share.of;
        std::vector<ScenePoint> corners;
        for (int i = 0; i < 6; ++i)
            corners.push_back(place({middle.x_m + 0.94 * field_m * std::sin(i * pi / 3.0),
                                     middle.y_m + 0.94 * field_m * std::cos(i * pi / 3.0)}));
        if (share.of < fewest_for_a_colour)
            scene.items.emplace_back(SceneStroke{corners, 0.0015, Ink::rule, true});
        else
            scene.items.emplace_back(SceneFill{corners, of < 0.08   ? Ink::few
                                                        : of < 0.16 ? Ink::some
                                                                    : Ink::many});
        const ScenePoint at = place(middle);
        figures.push_back({{at.x, at.y + 0.008}, field_words(share), 0.022, Anchor::middle, Ink::text});
        stands_for(scene, at, "attempts from here that went in: " + share_words(share),
                   field_m / (2.0 * place.half_width_m));
    }
    return figures;
}

void add_legend(Scene& scene, double y, bool single) {
    if (single) {
        constexpr std::array places = {0.03, 0.18, 0.365, 0.46};
        for (std::size_t band = 0; band < places.size(); ++band) {
            const auto value = static_cast<Band>(band);
            shape(scene, {places[band], y - 0.009}, shape_of(value), Ink::save, false, 0.024);
            write(scene, {places[band] + 0.02, y}, std::string{label_of(value)}, Anchor::start,
                  Ink::quiet_text, 0.024);
        }
        shape(scene, {0.63, y - 0.009}, Shape::disc, Ink::goal, true, 0.024);
        write(scene, {0.65, y}, "filled: goal", Anchor::start, Ink::quiet_text, 0.024);
        shape(scene, {0.82, y - 0.009}, Shape::disc, Ink::other, false, no_depth_size);
        write(scene, {0.84, y}, "no depth", Anchor::start, Ink::quiet_text, 0.024);
        return;
    }
    double x = 0.03;
    const auto say = [&](std::string words) {
        write(scene, {x + 0.04, y}, std::move(words), Anchor::start, Ink::quiet_text, 0.024);
    };
    for (const auto& [ink, words, wide] : {std::tuple{Ink::few, "under .080 went in", 0.27},
                                           {Ink::some, ".080 to .160", 0.20},
                                           {Ink::many, ".160 or more", 0.20}}) {
        box(scene, {x, y - 0.022}, {x + 0.03, y + 0.002}, ink);
        say(words);
        x += wide;
    }
    scene.items.emplace_back(
        SceneStroke{{{x, y - 0.022}, {x + 0.03, y - 0.022}, {x + 0.03, y + 0.002}, {x, y + 0.002}},
                    0.0015,
                    Ink::rule,
                    true});
    say(fmt::format("under {} attempts", fewest_for_a_colour));
}

} // namespace

IcePoint ice_on_plan(ScenePoint at, const Season& season) {
    return PlanScale{rule_book(season.rules)}.ice(at);
}

ScenePoint place_on_plan(IcePoint at, const Season& season) {
    return PlanScale{rule_book(season.rules)}(at);
}

Scene shots_on_plan(std::span<const ShotFact> facts, const Season& season) {
    const RuleBook& rules = rule_book(season.rules);
    const PlanScale place{rules};
    Scene scene;
    const double foot = place({0.0, lowest_m}).y;
    scene.height = foot + 0.05;
    const auto shown = static_cast<std::size_t>(std::ranges::count_if(facts, is_shown));
    const bool single = shown < most_single_shots;
    scene.title = single ? "Where they shot from: unblocked attempts"
                         : "Where they shot from: goals of unblocked attempts";
    std::vector<SceneText> figures;
    if (!single) figures = add_fields(scene, place, facts);
    add_paint(scene, place, rules);
    if (single) add_single_shots(scene, place, facts);
    scene.items.insert(scene.items.end(), figures.begin(), figures.end());
    add_legend(scene, foot + 0.03, single);
    scene.description =
        fmt::format("{} unblocked attempts by the place they were shot from; {} more have no place, no "
                    "outcome, or come from beyond the blue line. {}",
                    shown, facts.size() - shown,
                    single ? "The shape is the goalie's band at the decision, filled shapes are goals."
                           : "In each field goals of attempts, or their share where they are many.");
    return scene;
}

} // namespace ropeline
