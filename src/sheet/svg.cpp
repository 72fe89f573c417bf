#include "sheet/svg.h"

#include "sheet/text.h"

#include <fmt/core.h>

#include <iterator>

namespace ropeline {
namespace {

std::string hex(Ink ink) {
    const Rgb colour = ink_on_paper(ink);
    return fmt::format("#{:02x}{:02x}{:02x}", colour.red, colour.green, colour.blue);
}

struct Painter {
    double scale;
    std::string svg;

    template <class... Values>
    void add(fmt::format_string<Values...> format, Values&&... values) {
        fmt::format_to(std::back_inserter(svg), format, std::forward<Values>(values)...);
    }

    void add_points(const std::vector<ScenePoint>& points) {
        for (const ScenePoint& point : points)
            add("{}{:.2f},{:.2f}", &point == points.data() ? "" : " ", point.x * scale, point.y * scale);
    }

    void operator()(const SceneFill& fill) {
        svg += "<polygon points=\"";
        add_points(fill.points);
        add("\" fill=\"{}\"/>\n", hex(fill.ink));
    }

    void operator()(const SceneStroke& stroke) {
        add("<{} points=\"", stroke.closed ? "polygon" : "polyline");
        add_points(stroke.points);
        add("\" fill=\"none\" stroke=\"{}\" stroke-width=\"{:.2f}\"/>\n", hex(stroke.ink),
            stroke.width * scale);
    }

    void operator()(const SceneText& text) {
        const char* anchor = text.anchor == Anchor::start    ? "start"
                             : text.anchor == Anchor::middle ? "middle"
                                                             : "end";
        add("<text x=\"{:.2f}\" y=\"{:.2f}\" font-size=\"{:.2f}\" text-anchor=\"{}\" "
            "fill=\"{}\"{}>{}</text>\n",
            text.at.x * scale, text.at.y * scale, text.size * scale, anchor, hex(text.ink),
            text.strong ? " font-weight=\"600\"" : "", markup(text.text));
    }
};

} // namespace

// Goal and save keep their contrast for the three common colour-vision deficiencies; shapes say the same.
Rgb ink_on_paper(Ink ink) {
    switch (ink) {
    case Ink::paper:
        return {255, 255, 255};
    case Ink::defensive:
        return {229, 233, 242};
    case Ink::conservative:
        return {240, 243, 248};
    case Ink::base:
        return {253, 246, 226};
    case Ink::aggressive:
        return {247, 238, 232};
    case Ink::rule:
        return {188, 200, 210};
    case Ink::text:
        return {16, 28, 38};
    case Ink::quiet_text:
        return {76, 94, 110};
    case Ink::goal:
        return {204, 74, 16};
    case Ink::save:
        return {20, 96, 186};
    case Ink::other:
        return {96, 110, 122};
    case Ink::shot:
        return {20, 96, 186};
    case Ink::shot_band:
        return {214, 228, 244};
    case Ink::pass:
        return {168, 60, 12};
    case Ink::pass_band:
        return {248, 226, 212};
    case Ink::few:
        return {226, 236, 247};
    case Ink::some:
        return {250, 214, 170};
    case Ink::many:
        return {240, 152, 92};
    }
    return {};
}

std::string write_svg(const Scene& scene, double width_px) {
    Painter painter{width_px, {}};
    painter.add("<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{0:.0f}\" height=\"{1:.0f}\" viewBox=\"0 "
                "0 {0:.2f} "
                "{1:.2f}\" role=\"img\" font-family=\"Inter, 'Helvetica Neue', Arial, sans-serif\">\n",
                width_px, scene.height * width_px);
    painter.add("<title>{}</title>\n<desc>{}</desc>\n", markup(scene.title), markup(scene.description));
    painter(SceneFill{{{0.0, 0.0}, {1.0, 0.0}, {1.0, scene.height}, {0.0, scene.height}}, Ink::paper});
    for (const SceneItem& item : scene.items)
        std::visit(painter, item);
    return painter.svg + "</svg>\n";
}

} // namespace ropeline
