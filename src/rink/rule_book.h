// The rule books as data: every length the program draws or measures with, and the rule it stands in.
// To add a rule book: one more RuleBookId, one more table in rule_book.cpp, nothing else.
#pragma once

#include <optional>
#include <span>
#include <string_view>

namespace ropeline {

enum class RuleBookId { nhl, iihf, usa_hockey, hockey_canada, nhl_to_2013 };

/// A length in metres with the rule or source that fixes it ("Rule 1.7", "from memory", ...).
struct RuleLength {
    double m = 0.0;
    std::string_view source;
};

enum class CreaseShape {
    semicircle,   ///< a half disc about the middle of the goal line
    clipped_disc, ///< the same disc cut by two sides square to the goal line
};

/// The near end of a rink. Crease and circle radii reach the outer edge of the paint; lines are given by
/// their centre unless the name says otherwise.
struct RuleBook {
    RuleBookId id{};
    std::string_view key;  ///< as written in JSON and in the season file: "nhl"
    std::string_view name; ///< as shown to a coach: "NHL"

    RuleLength rink_length, rink_width, corner_radius;
    RuleLength goal_line_to_boards; ///< centre of the goal line to the inside of the end boards
    RuleLength post_half_gap;       ///< middle of the goal line to the inside face of a post
    RuleLength post_diameter, net_height, net_depth;
    CreaseShape crease_shape{};
    RuleLength crease_radius, crease_half_width; ///< half width matters for clipped_disc only
    RuleLength crease_mark_depth;                ///< the L or T mark stands this far from the goal line
    RuleLength crease_mark_length;
    RuleLength thin_line, wide_line; ///< widths: goal line, crease, circles; blue and red line
    RuleLength spot_from_goal_line, spot_from_axis, spot_diameter, circle_radius;
    RuleLength centre_spot_diameter;  ///< the face-off spot on the red line; its circle has circle_radius too
    RuleLength hash_length, hash_gap; ///< gap between the two hash marks of a side, centre to centre
    RuleLength l_mark_along, l_mark_across; ///< corner offset from the spot: up-ice and sideways
    RuleLength l_leg_along, l_leg_across;
    RuleLength blue_line_centre; ///< goal line to the centre of the blue line
    RuleLength red_line_centre;  ///< goal line to the centre of the red line
    RuleLength neutral_spot_from_goal_line, neutral_spot_from_axis;
    std::optional<RuleLength> trapezoid_half_at_goal_line, trapezoid_half_at_boards;
};

const RuleBook& rule_book(RuleBookId id);
std::span<const RuleBook> rule_books();
/// The rule book with this key, or nothing.
std::optional<RuleBookId> rule_book_from_key(std::string_view key);

} // namespace ropeline
