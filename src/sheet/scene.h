// A picture as plain structs: the screen and the SVG file paint the same list, so they cannot differ.
// The box is 1 wide and `height` high, x to the right, y down; widths of strokes and sizes of text are in the
// same unit. Colours are roles, so that the desk can paint in its own light and dark.
#pragma once

#include <cstdint>
#include <string>
#include <variant>
#include <vector>

namespace ropeline {

enum class Ink {
    paper,
    defensive, ///< a strip of the chart, pale
    conservative,
    base,
    aggressive,
    rule, ///< thin lines
    text,
    quiet_text,
    goal,
    save,
    other,
    shot, ///< clear shots, and what can be said of them around it
    shot_band,
    pass,
    pass_band,
    few, ///< few goals of the attempts from there, some, many
    some,
    many,
};

struct ScenePoint {
    double x = 0.0, y = 0.0;
};

/// A filled convex polygon.
struct SceneFill {
    std::vector<ScenePoint> points;
    Ink ink{};
};

struct SceneStroke {
    std::vector<ScenePoint> points;
    double width = 0.0;
    Ink ink{};
    bool closed = false;
};

enum class Anchor { start, middle, end };

struct SceneText {
    ScenePoint at; ///< on the base line, at the start, middle or end of the text
    std::string text;
    double size = 0.0; ///< height of the face
    Anchor anchor{};
    Ink ink{};
    bool strong = false;
};

using SceneItem = std::variant<SceneFill, SceneStroke, SceneText>;

/// What a place of the picture stands for, for who can point at it. A page ignores it.
struct SceneMark {
    ScenePoint at;
    double reach = 0.0;  ///< how far from `at` it is still meant
    std::string shot_id; ///< the shot that it stands for; empty: no single one
    std::string words;   ///< what it stands for, where it is no single shot
};

struct Scene {
    double height = 1.0;
    std::string title;
    std::string description;      ///< the picture in words, for who cannot see it
    std::vector<SceneItem> items; ///< painted in this order
    std::vector<SceneMark> marks{};
};

/// The mark that is meant by a place of the picture: the nearest of those within reach; null: none.
const SceneMark* mark_at(const Scene& scene, ScenePoint at);

} // namespace ropeline
