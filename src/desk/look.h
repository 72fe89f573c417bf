// How the desk looks: type, colours, the few shapes that stand for outcomes. Colour never carries a meaning
// alone.
#pragma once

#include "depth/reading.h"
#include "depth/reason.h"
#include "desk/state/layout.h"
#include "desk/state/letters.h"
#include "season/records.h"

#include <imgui.h>

#include <optional>

namespace ropeline {

struct Palette {
    ImU32 ground, panel, raised, edge; ///< from the back of the desk to what lies on it
    ImU32 text, quiet, faint;
    ImU32 rope;    ///< our own colour: whatever has the focus, and the ropes to the puck
    ImU32 on_rope; ///< text on it
    ImU32 trouble;
    ImU32 ice, red_paint, blue_paint, boards;
    ImU32 goal, save, other; ///< outcomes, always with a shape of their own
    ImU32 bands[4];          ///< defensive .. aggressive, dark to light
};

struct Look {
    bool dark = true;
    float unit = 16.0F; ///< height of body text, pixels
    /// Width of a stroke that is so wide beside text of sixteen pixels.
    float pen(float width_px) const { return width_px * unit / 16.0F; }
    Palette colours{};
    LengthUnit lengths = LengthUnit::metres; ///< all that is long is said in
    ImFont* body = nullptr;
    ImFont* strong = nullptr;
    ImFont* heading = nullptr;
    ImFont* fact = nullptr;   ///< read from two metres
    ImFont* figure = nullptr; ///< the one thing a coach reads from the back of the room: verdict, depth
    TypeSizes type;
    Letters letters; ///< that other faces lend to the three small ones
};

Palette palette(bool dark);
/// Loads Inter through fontconfig at these sizes, or the built-in face when it is not installed, and sets the style.
/// In      `letters`: that names and notes need besides. They stand one by one, from left to right: nothing is joined or turned.
void put_look(Look& look, bool dark, const TypeSizes& type, const Letters& letters = {});

/// Draws the mark of an outcome: goal a filled triangle, save a ring, anything else a bar, none yet a small
/// diamond.
void draw_outcome(ImDrawList* draw, ImVec2 middle, float size, std::optional<Outcome> outcome,
                  const Palette& colours);

/// A shape for each verdict, so that it reads without colour: upright bar right, arrow out or in for depth (with
/// a bar at its tail when the passes make it dear), arrow across for the angle, two for beaten across, a post with
/// nobody at it, ring not judged.
void draw_verdict(ImDrawList* draw, ImVec2 middle, float size, Verdict verdict, const Palette& colours);

} // namespace ropeline
