#include "rink/rule_book.h"

#include "rink/units.h"

#include <algorithm>
#include <array>

namespace ropeline {
namespace {

constexpr RuleLength feet(double value, std::string_view source) {
    return {from_feet(value), source};
}
constexpr RuleLength inches(double value, std::string_view source) {
    return {from_inches(value), source};
}
constexpr RuleLength metres(double value, std::string_view source) {
    return {value, source};
}

// The printed 4 ft 6 in of the crease's sides is a rounded figure: a 6 ft arc stands sqrt(20) ft high where
// it meets them, 8 mm less. The arc is kept and the corner falls where the two meet.
constexpr RuleBook nhl() {
    return {
        .id = RuleBookId::nhl,
        .key = "nhl",
        .name = "NHL",
        .rink_length = feet(200, "Rule 1.2"),
        .rink_width = feet(85, "Rule 1.2"),
        .corner_radius = feet(28, "Rule 1.2"),
        .goal_line_to_boards = feet(11, "Rule 1.5"),
        .post_half_gap = feet(3, "Rule 2.1, from memory; equal to USA Hockey Rule 105(a)"),
        .post_diameter = inches(2.375, "Rule 2.1, from memory"),
        .net_height = feet(4, "Rule 2.1, from memory; equal to USA Hockey Rule 105(a)"),
        .net_depth = inches(40, "since 2013, from memory"),
        .crease_shape = CreaseShape::clipped_disc,
        .crease_radius = feet(6, "Rule 1.7"),
        .crease_half_width = feet(4, "Rule 1.7: sides 8 ft apart, read as outer edges"),
        .crease_mark_depth = feet(4, "Rule 1.7"),
        .crease_mark_length = inches(5, "Rule 1.7"),
        .thin_line = inches(2, "Rule 1.5 and 1.7"),
        .wide_line = inches(12, "Rule 1.5"),
        .spot_from_goal_line = feet(20, "Rule 1.9, from memory"),
        .spot_from_axis = feet(22, "Rule 1.9, from memory"),
        .spot_diameter = feet(2, "Rule 1.9, from memory"),
        .circle_radius = feet(15, "Rule 1.9, from memory"),
        .centre_spot_diameter = inches(12, "Rule 1.9, from memory"),
        .hash_length = feet(2, "Rule 1.9, from memory"),
        .hash_gap = inches(67, "Rule 1.9, from memory: 5 ft 7 in since 2014, read as centre to centre"),
        .l_mark_along = feet(2, "Rule 1.9, from memory: 1 ft beyond the edge of the spot"),
        .l_mark_across = inches(9, "Rule 1.9, from memory: legs 18 in apart, read as centre to centre"),
        .l_leg_along = feet(4, "Rule 1.9, from memory"),
        .l_leg_across = inches(34, "Rule 1.9, from memory"),
        .blue_line_centre = feet(63.5, "Rule 1.5: 64 ft, read as the neutral-zone edge of a 12 in line"),
        .red_line_centre = feet(89, "half of Rule 1.2's length less the 11 ft behind the goal line"),
        .neutral_spot_from_goal_line = feet(69, "Rule 1.9, from memory: 5 ft outside the blue line"),
        .neutral_spot_from_axis = feet(22, "Rule 1.9, from memory: 44 ft apart"),
        .trapezoid_half_at_goal_line = feet(11, "Rule 1.8: 7 ft outside each side of the crease"),
        .trapezoid_half_at_boards =
            feet(14, "Rule 1.8: 28 ft, confirmed by the published areas of 253 and 275 sq ft"),
    };
}

constexpr RuleBook iihf() {
    return {
        .id = RuleBookId::iihf,
        .key = "iihf",
        .name = "IIHF",
        .rink_length = metres(60.0, "Rule 1.2 (2023/24)"),
        .rink_width = metres(30.0, "Rule 1.2 (2023/24): 26 to 30 m; the wide sheet is used"),
        .corner_radius = metres(8.5, "Rule 1.2 (2023/24): 7.0 to 8.5 m"),
        .goal_line_to_boards =
            metres(4.0, "Swedish federation facility book 2022/23, to the middle of the line"),
        .post_half_gap = metres(0.915, "Rule 2.1 (2023/24)"),
        .post_diameter = metres(0.050, "Rule 2.1, from memory, in doubt"),
        .net_height = metres(1.22, "Rule 2.1 (2023/24)"),
        .net_depth = metres(1.12, "Rule 2.1, from memory, in doubt: 0.60 to 1.12 m"),
        .crease_shape = CreaseShape::semicircle,
        .crease_radius = metres(1.80, "Rule 1.7, text of an earlier edition; the 2023/24 value from memory"),
        .crease_half_width = metres(1.80, "Rule 1.7: the radius, the crease is a half disc"),
        .crease_mark_depth = metres(1.22, "Rule 1.7, text of an earlier edition"),
        .crease_mark_length = metres(0.15, "Rule 1.7, text of an earlier edition"),
        .thin_line = metres(0.05, "Swedish federation facility book 2022/23"),
        .wide_line = metres(0.30, "Swedish federation facility book 2022/23"),
        .spot_from_goal_line = metres(6.0, "Swedish federation facility book 2022/23, diagram"),
        .spot_from_axis = metres(7.0, "Swedish federation facility book 2022/23, diagram"),
        .spot_diameter = metres(0.60, "Western Australian sports dimensions guide"),
        .circle_radius = metres(4.5, "Rule 1.9 (2023/24)"),
        .centre_spot_diameter = metres(0.30, "Rule 1.9, from memory"),
        .hash_length = metres(0.60, "Rule 1.9 (2023/24)"),
        .hash_gap = metres(1.70, "Rule 1.9 (2023/24), read as centre to centre"),
        .l_mark_along = metres(0.60, "Rule 1.9 (2023/24): 30 cm beyond the edge of the spot"),
        .l_mark_across = metres(0.225, "Rule 1.9 (2023/24): legs 45 cm apart, read as centre to centre"),
        .l_leg_along = metres(1.20, "Rule 1.9 (2023/24)"),
        .l_leg_across = metres(0.90, "Rule 1.9 (2023/24)"),
        .blue_line_centre =
            metres(18.86, "Swedish federation facility book 2022/23: 22.86 m from the end boards"),
        .red_line_centre = metres(26.0, "half of Rule 1.2's length less the 4 m behind the goal line"),
        .neutral_spot_from_goal_line =
            metres(20.36, "Swedish federation facility book: 1.50 m outside the blue line"),
        .neutral_spot_from_axis = metres(7.0, "Swedish federation facility book 2022/23: 14 m apart"),
        .trapezoid_half_at_goal_line = metres(3.40, "Rule 1.8 and 27.8: 6.80 m"),
        .trapezoid_half_at_boards = metres(4.30, "Rule 1.8 and 27.8: 8.60 m"),
    };
}

constexpr RuleBook usa_hockey() {
    return {
        .id = RuleBookId::usa_hockey,
        .key = "usa_hockey",
        .name = "USA Hockey",
        .rink_length = feet(200, "Rule 101, from memory: recommended"),
        .rink_width = feet(85, "Rule 101, from memory: recommended"),
        .corner_radius = feet(28, "Rule 101: 23 to 28 ft in an older text"),
        .goal_line_to_boards = feet(11, "Rule 103, from memory; 12 to 15 ft in an older text"),
        .post_half_gap = feet(3, "Rule 105(a)"),
        .post_diameter = inches(2.375, "from memory, in doubt: not in Rule 105"),
        .net_height = feet(4, "Rule 105(a)"),
        .net_depth = inches(40, "from memory, in doubt"),
        .crease_shape = CreaseShape::semicircle,
        .crease_radius = feet(6, "Rule 103(b); the 6 ft from memory"),
        .crease_half_width = feet(6, "Rule 103(b): the radius, the crease is a half disc"),
        .crease_mark_depth = feet(4, "Rule 103(b), from memory"),
        .crease_mark_length = inches(5, "Rule 103(b), from memory"),
        .thin_line = inches(2, "Rule 103"),
        .wide_line = inches(12, "Rule 103, from memory"),
        .spot_from_goal_line = feet(20, "Rule 104, from memory"),
        .spot_from_axis = feet(22, "Rule 104, from memory"),
        .spot_diameter = feet(2, "Rule 104, from memory"),
        .circle_radius = feet(15, "Rule 104, from memory; 15 ft in Rule 106 for the centre circle"),
        .centre_spot_diameter = inches(12, "Rule 106"),
        .hash_length = feet(2, "Rule 104, from memory, in doubt"),
        .hash_gap = feet(3, "Rule 104, from memory, in doubt: read as centre to centre"),
        .l_mark_along = feet(2, "Rule 104, from memory, in doubt: as NHL"),
        .l_mark_across = inches(9, "Rule 104, from memory, in doubt: as NHL"),
        .l_leg_along = feet(4, "Rule 104, from memory, in doubt: as NHL"),
        .l_leg_across = inches(34, "Rule 104, from memory, in doubt: as NHL"),
        .blue_line_centre =
            feet(63.5, "Rule 103, from memory, in doubt: 64 ft to the far edge, 60 ft on older sheets"),
        .red_line_centre = feet(89, "half of a 200 ft sheet less the 11 ft behind the goal line"),
        .neutral_spot_from_goal_line = feet(69, "Rule 104, from memory: 5 ft outside the blue line"),
        .neutral_spot_from_axis = feet(22, "Rule 104, from memory: 44 ft apart"),
        .trapezoid_half_at_goal_line = std::nullopt,
        .trapezoid_half_at_boards = std::nullopt,
    };
}

// No page of Hockey Canada's rink section was at hand: every length is from memory and in doubt. The shape is
// USA Hockey's; only the words in which a length is backed differ.
constexpr RuleBook hockey_canada() {
    constexpr std::string_view doubt = "section 1, from memory, in doubt";
    RuleBook book = usa_hockey();
    book.id = RuleBookId::hockey_canada;
    book.key = "hockey_canada";
    book.name = "Hockey Canada";
    for (RuleLength RuleBook::*const length : {&RuleBook::rink_length,
                                               &RuleBook::rink_width,
                                               &RuleBook::corner_radius,
                                               &RuleBook::goal_line_to_boards,
                                               &RuleBook::post_half_gap,
                                               &RuleBook::post_diameter,
                                               &RuleBook::net_height,
                                               &RuleBook::net_depth,
                                               &RuleBook::crease_radius,
                                               &RuleBook::crease_half_width,
                                               &RuleBook::crease_mark_depth,
                                               &RuleBook::crease_mark_length,
                                               &RuleBook::thin_line,
                                               &RuleBook::wide_line,
                                               &RuleBook::spot_from_goal_line,
                                               &RuleBook::spot_from_axis,
                                               &RuleBook::spot_diameter,
                                               &RuleBook::circle_radius,
                                               &RuleBook::centre_spot_diameter,
                                               &RuleBook::hash_length,
                                               &RuleBook::hash_gap,
                                               &RuleBook::l_mark_along,
                                               &RuleBook::l_mark_across,
                                               &RuleBook::l_leg_along,
                                               &RuleBook::l_leg_across,
                                               &RuleBook::blue_line_centre,
                                               &RuleBook::red_line_centre,
                                               &RuleBook::neutral_spot_from_goal_line,
                                               &RuleBook::neutral_spot_from_axis}) {
        (book.*length).source = doubt;
    }
    return book;
}

/// Rinks that were painted before the summer of 2014 and never anew.
constexpr RuleBook nhl_to_2013() {
    RuleBook book = nhl();
    book.id = RuleBookId::nhl_to_2013;
    book.key = "nhl_to_2013";
    book.name = "NHL to 2013";
    book.hash_gap = feet(3, "Rule 1.9 before 2014, from memory");
    book.trapezoid_half_at_goal_line = feet(9, "Rule 1.8 before 2014, from memory: 6 ft outside each post");
    return book;
}

constexpr std::array<RuleBook, 5> books{nhl(), iihf(), usa_hockey(), hockey_canada(), nhl_to_2013()};

} // namespace

const RuleBook& rule_book(RuleBookId id) {
    return books.at(static_cast<std::size_t>(id));
}

std::span<const RuleBook> rule_books() {
    return books;
}

std::optional<RuleBookId> rule_book_from_key(std::string_view key) {
    const auto found = std::ranges::find(books, key, &RuleBook::key);
    if (found == books.end()) return std::nullopt;
    return found->id;
}

} // namespace ropeline
