// Marks of parts of a film put together, and what a known rink says of them. Pure.
#pragma once

#include "camera/rink_fit.h"
#include "chances/marks.h"

#include <optional>
#include <span>

namespace ropeline {

/// What begins before `at_s` is from the one, what begins later from the other; until_s and whole are the other's.
FilmMarks joined(const FilmMarks& before, const FilmMarks& after, double at_s);
/// Without what lies after it.
FilmMarks cut_at(FilmMarks marks, double until_s);

/// Where the rink is known, and with it whether a net lies in the picture.
struct RinkKnown {
    Stretch when;
    bool net = false;
};
/// The known rink has the say where there is one: nets that were thought to be seen go, with the likely chances at
/// them, and those that are in view come.
/// In      known: in any order.
FilmMarks with_known_rink(FilmMarks marks, std::span<const RinkKnown> known);

/// Whether the middle of the mouth of either net lies in the picture.
bool net_in_picture(const RinkFit& fit, const RuleBook& rules);

/// A likely chance is gone to so long before it, so that the play is seen coming.
constexpr double before_chance_s = 2.0;
/// Where the next likely chance is gone to, or the one before; that where the film stands is passed over.
std::optional<double> next_chance_s(const FilmMarks& marks, double now_s);
std::optional<double> chance_before_s(const FilmMarks& marks, double now_s);

} // namespace ropeline
