#include "sheet/chart_parts.h"

#include "rink/units.h"

#include <cmath>
#include <utility>

namespace ropeline {

const SceneMark* mark_at(const Scene& scene, ScenePoint at) {
    const SceneMark* meant = nullptr;
    double nearest = 0.0;
    for (const SceneMark& mark : scene.marks) {
        const double apart = std::hypot(mark.at.x - at.x, mark.at.y - at.y);
        if (apart > mark.reach || (meant && apart > nearest)) continue; // of two as near, the one on top
        meant = &mark;
        nearest = apart;
    }
    return meant;
}

} // namespace ropeline

namespace ropeline::chart {

std::vector<double> ticks(double low, double high, int about) {
    const double raw = (high - low) / about;
    const double ten = std::pow(10.0, std::floor(std::log10(raw)));
    const double step = raw / ten < 1.5   ? ten
                        : raw / ten < 3.5 ? 2.0 * ten
                        : raw / ten < 7.5 ? 5.0 * ten
                                          : 10.0 * ten;
    std::vector<double> made;
    for (auto i = static_cast<long>(std::ceil(low / step - 1e-9));
         static_cast<double>(i) * step <= high + 1e-9 * step; ++i)
        made.push_back(static_cast<double>(i) * step);
    return made;
}

void write(Scene& scene, ScenePoint at, std::string text, Anchor anchor, Ink ink, double size, bool strong) {
    scene.items.emplace_back(SceneText{at, std::move(text), size, anchor, ink, strong});
}

void line(Scene& scene, ScenePoint from, ScenePoint to, double width, Ink ink) {
    scene.items.emplace_back(SceneStroke{{from, to}, width, ink});
}

void box(Scene& scene, ScenePoint from, ScenePoint to, Ink ink) {
    scene.items.emplace_back(SceneFill{{from, {to.x, from.y}, to, {from.x, to.y}}, ink});
}

void shape(Scene& scene, ScenePoint at, Shape shape, Ink ink, bool filled, double size) {
    const int corners = shape == Shape::triangle                            ? 3
                        : shape == Shape::square || shape == Shape::diamond ? 4
                                                                            : 14;
    const double turn = shape == Shape::square ? pi / 4.0 : -pi / 2.0;
    const double reach = corners == 14 ? 0.46 * size : 0.56 * size;
    std::vector<ScenePoint> points;
    for (int i = 0; i < corners; ++i) {
        const double angle = turn + 2.0 * pi * i / corners;
        points.push_back({at.x + reach * std::cos(angle), at.y + reach * std::sin(angle)});
    }
    if (filled && shape != Shape::ring)
        scene.items.emplace_back(SceneFill{points, ink});
    else
        scene.items.emplace_back(SceneStroke{points, 0.16 * size, ink, true});
}

void stands_for_shot(Scene& scene, ScenePoint at, const std::string& shot_id, double reach) {
    scene.marks.push_back({at, reach, shot_id, {}});
}

void stands_for(Scene& scene, ScenePoint at, std::string words, double reach) {
    scene.marks.push_back({at, reach, {}, std::move(words)});
}

void level_whisker(Scene& scene, double y, double low, double value, double high, Shape mark, Ink ink) {
    line(scene, {low, y}, {high, y}, thick, ink);
    for (const double end : {low, high})
        line(scene, {end, y - 0.010}, {end, y + 0.010}, thin, ink);
    shape(scene, {value, y}, mark, ink, true, 0.028);
}

} // namespace ropeline::chart
