#include "rink/landmarks.h"

#include "rink/curves.h"

#include <doctest/doctest.h>

#include <cmath>
#include <map>
#include <set>
#include <string>

using namespace ropeline;

namespace {

using Table = std::map<std::string, IcePoint>;

void check_both_sides(const RuleBook& rules, const Table& right_side) {
    CAPTURE(rules.key);
    for (const auto& landmark : right_side) {
        const std::string& name = landmark.first; // Clang 14 captures no structured binding
        const IcePoint at = landmark.second;
        CAPTURE(name);
        const bool on_axis = at.x_m == 0.0;
        const auto right = find_landmark(rules, on_axis ? name : "right_" + name);
        REQUIRE(right.has_value());
        CHECK(std::abs(right->at.x_m - at.x_m) < 6e-5);
        CHECK(std::abs(right->at.y_m - at.y_m) < 6e-5);
        if (on_axis) continue;
        const auto left = find_landmark(rules, "left_" + name);
        REQUIRE(left.has_value());
        CHECK(left->at.x_m == -right->at.x_m);
        CHECK(left->at.y_m == right->at.y_m);
    }
}

// Four decimals, worked from the rule books; rule numbers stand beside each length in rule_book.cpp.
const Table nhl_table{
    {"post", {0.9144, 0.0}},
    {"crease_foot", {1.2192, 0.0}},
    {"crease_top", {0.0, 1.8288}},
    {"crease_corner", {1.2192, 1.3631}},
    {"crease_mark", {1.2192, 1.2192}},
    {"spot", {6.7056, 6.0960}},
    {"circle_high", {6.7056, 10.6680}},
    {"circle_low", {6.7056, 1.5240}},
    {"circle_inner", {2.1336, 6.0960}},
    {"circle_outer", {11.2776, 6.0960}},
    {"inner_hash_low", {2.2135, 5.2451}},
    {"inner_hash_low_tip", {1.6039, 5.2451}},
    {"outer_hash_low", {11.1977, 5.2451}},
    {"outer_hash_low_tip", {11.8073, 5.2451}},
    {"inner_hash_high", {2.2135, 6.9469}},
    {"inner_hash_high_tip", {1.6039, 6.9469}},
    {"outer_hash_high", {11.1977, 6.9469}},
    {"outer_hash_high_tip", {11.8073, 6.9469}},
    {"inner_l_low", {6.4770, 5.4864}},
    {"trapezoid_foot", {3.3528, 0.0}},
    {"trapezoid_end", {4.2672, -3.3528}},
    {"goal_line_end", {11.2010, 0.0}},
    {"blue_line_low", {12.9540, 19.2024}},
    {"blue_line_high", {12.9540, 19.5072}},
    {"neutral_spot", {6.7056, 21.0312}},
    {"centre_spot", {0.0, 27.1272}},
};

const Table iihf_table{
    {"post", {0.9150, 0.0}},
    {"crease_foot", {1.8, 0.0}},
    {"crease_top", {0.0, 1.8}},
    {"crease_mark", {1.3235, 1.22}},
    {"spot", {7.0, 6.0}},
    {"circle_high", {7.0, 10.5}},
    {"circle_low", {7.0, 1.5}},
    {"circle_inner", {2.5, 6.0}},
    {"circle_outer", {11.5, 6.0}},
    {"inner_hash_low", {2.5810, 5.15}},
    {"inner_hash_low_tip", {1.9810, 5.15}},
    {"outer_hash_high", {11.4190, 6.85}},
    {"outer_hash_high_tip", {12.0190, 6.85}},
    {"inner_l_low", {6.7750, 5.4}},
    {"trapezoid_foot", {3.4, 0.0}},
    {"trapezoid_end", {4.3, -4.0}},
    {"goal_line_end", {13.7111, 0.0}},
    {"blue_line_low", {15.0, 18.71}},
    {"blue_line_high", {15.0, 19.01}},
    {"neutral_spot", {7.0, 20.36}},
    {"centre_spot", {0.0, 26.0}},
};

const Table usa_table{
    {"post", {0.9144, 0.0}},
    {"crease_foot", {1.8288, 0.0}},
    {"crease_top", {0.0, 1.8288}},
    {"crease_mark", {1.3631, 1.2192}},
    {"inner_hash_low", {2.1565, 5.6388}},
    {"inner_hash_low_tip", {1.5469, 5.6388}},
    {"outer_hash_low", {11.2547, 5.6388}},
    {"outer_hash_low_tip", {11.8643, 5.6388}},
    {"inner_hash_high", {2.1565, 6.5532}},
    {"neutral_spot", {6.7056, 21.0312}},
};

} // namespace

TEST_CASE("landmarks stand where the rule books put them") {
    check_both_sides(rule_book(RuleBookId::nhl), nhl_table);
    check_both_sides(rule_book(RuleBookId::iihf), iihf_table);
    check_both_sides(rule_book(RuleBookId::usa_hockey), usa_table);
    check_both_sides(rule_book(RuleBookId::hockey_canada), usa_table);
}

TEST_CASE("landmarks that a rule book does not have are not offered") {
    CHECK_FALSE(find_landmark(rule_book(RuleBookId::iihf), "left_crease_corner"));
    CHECK_FALSE(find_landmark(rule_book(RuleBookId::usa_hockey), "left_trapezoid_foot"));
    CHECK_FALSE(find_landmark(rule_book(RuleBookId::nhl), "penalty_box"));
}

TEST_CASE("names and labels are unique, nearest the net comes first") {
    for (const RuleBook& book : rule_books()) {
        CAPTURE(book.key);
        std::set<std::string> names, labels;
        double before = 0.0;
        for (const Landmark& mark : landmarks(book)) {
            CHECK(names.insert(mark.name).second);
            CHECK(labels.insert(mark.label).second);
            CHECK(length(mark.at) >= before);
            before = length(mark.at);
        }
        CHECK(names.size() >= 50);
        CHECK(landmarks(book).front().name == "left_post");
        CHECK(landmarks(book).front().label == "left post, inside");
    }
}

TEST_CASE("the other end is the rink turned by half a turn") {
    for (const RuleBook& book : rule_books()) {
        const IcePoint centre{0.0, book.red_line_centre.m};
        CHECK(distance(from_other_end(book, centre), centre) < 1e-12);
        const IcePoint spot = find_landmark(book, "left_spot")->at;
        CHECK(distance(from_other_end(book, from_other_end(book, spot)), spot) < 1e-12);
        CHECK(from_other_end(book, spot).x_m > 0.0);
    }
}

TEST_CASE("a rule book added to them has its landmarks and curves too") {
    RuleBook added = rule_book(RuleBookId::iihf);
    added.id = static_cast<RuleBookId>(rule_books().size());
    CHECK(landmarks(added).size() == landmarks(rule_book(RuleBookId::iihf)).size());
    CHECK(ice_curves(added).size() == ice_curves(rule_book(RuleBookId::iihf)).size());
}

TEST_CASE("extremes of curves are not marked by paint; crossings, corners and spots are") {
    for (const RuleBook& book : rule_books()) {
        CAPTURE(book.key);
        for (const char* name :
             {"left_post", "right_spot", "left_inner_hash_high", "right_crease_foot", "left_blue_line_low"})
            CHECK(find_landmark(book, name)->marked);
        for (const char* name : {"crease_top", "left_circle_high", "right_circle_outer", "centre_circle_low"})
            CHECK_FALSE(find_landmark(book, name)->marked);
    }
}
