#include "sheet/csv.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <utility>

namespace ropeline {
namespace {

/// Reads CSV by the grammar of RFC 4180, section 2, strictly.
std::vector<std::vector<std::string>> parse(const std::string& csv) {
    std::vector<std::vector<std::string>> rows{{}};
    std::string field;
    bool quoted = false;
    for (std::size_t i = 0; i < csv.size(); ++i) {
        const char c = csv[i];
        if (quoted) {
            if (c != '"') {
                field += c;
            } else if (i + 1 < csv.size() && csv[i + 1] == '"') {
                field += csv[++i];
            } else {
                quoted = false;
            }
        } else if (c == '"') {
            REQUIRE(field.empty());
            quoted = true;
        } else if (c == ',') {
            rows.back().push_back(std::exchange(field, {}));
        } else if (c == '\r') {
            REQUIRE(csv[++i] == '\n');
            rows.back().push_back(std::exchange(field, {}));
            rows.emplace_back();
        } else {
            REQUIRE(c != '\n');
            field += c;
        }
    }
    REQUIRE(rows.back().empty());
    rows.pop_back();
    return rows;
}

} // namespace

TEST_CASE("fields are quoted as RFC 4180 asks") {
    CHECK(csv_field("plain") == "plain");
    CHECK(csv_field("") == "");
    CHECK(csv_field("a,b") == "\"a,b\"");
    CHECK(csv_field("say \"hi\"") == "\"say \"\"hi\"\"\"");
    CHECK(csv_field("two\nlines") == "\"two\nlines\"");
}

TEST_CASE("no text turns into a formula in a spreadsheet") {
    // OWASP, "CSV Injection": fields that start with = + - @ tab, return or line feed.
    CHECK(csv_field("=1+1") == "'=1+1");
    CHECK(csv_field("+1") == "'+1");
    CHECK(csv_field("-cmd") == "'-cmd");
    CHECK(csv_field("@SUM(A1)") == "'@SUM(A1)");
    CHECK(csv_field("\n=1+1") == "\"'\n=1+1\"");
    CHECK(csv_field("\tx") == "'\tx");
    CHECK(csv_field("=HYPERLINK(\"http://x\",\"y\")") == "\"'=HYPERLINK(\"\"http://x\"\",\"\"y\"\")\"");
}

TEST_CASE(
    "shots.csv: every row has a field for each column, numbers read back the same, names as they were") {
    std::vector<ShotFact> facts(3);
    facts[0].goalie = "O'Dell, \"The Wall\"\r\n<b>";
    facts[0].depth_m = 0.1 + 0.2;
    facts[0].off_angle_m = -1.0 / 3.0;
    facts[0].outcome = Outcome::save_rebound;
    facts[0].band = Band::aggressive;
    facts[0].goalie_at = IcePoint{-0.25, 1.5};
    facts[0].note = "=2+3";
    facts[0].details.set(Detail::net_place, 1);
    facts[0].details.set(Detail::feet, 2);
    facts[0].details.set(Detail::numbers, 5);
    facts[0].shooter_number = 19;
    facts[0].tags = "back door, scramble";
    facts[0].took_at = IcePoint{-3.0, 4.5};
    facts[1].outcome = Outcome::goal;
    const auto rows = parse(shots_csv(facts));
    REQUIRE(rows.size() == 4);
    const auto& header = rows[0];
    for (const auto& row : rows)
        CHECK(row.size() == header.size());
    const auto value = [&](std::size_t row, const std::string& column) {
        const auto found = std::find(header.begin(), header.end(), column);
        REQUIRE(found != header.end());
        return rows[row][static_cast<std::size_t>(found - header.begin())];
    };
    CHECK(value(1, "goalie") == "O'Dell, \"The Wall\"\r\n<b>");
    CHECK(std::stod(value(1, "depth_m")) == 0.1 + 0.2);
    CHECK(std::stod(value(1, "off_angle_m")) == -1.0 / 3.0);
    CHECK(value(1, "outcome") == "save_rebound");
    CHECK(value(1, "on_goal") == "1");
    CHECK(value(1, "saved") == "1");
    CHECK(value(1, "band") == "aggressive");
    CHECK(value(1, "goalie_x_m") == "-0.25");
    CHECK(value(1, "note") == "'=2+3");
    CHECK(value(2, "saved") == "0");
    CHECK(value(1, "net_place") == "high_glove");
    CHECK(value(1, "feet") == "moving");
    CHECK(value(1, "attackers") == "2");
    CHECK(value(1, "defenders") == "1");
    CHECK(value(1, "shooter_number") == "19");
    CHECK(value(1, "tags") == "back door, scramble");
    CHECK(value(1, "took_y_m") == "4.5");
    CHECK(value(2, "attackers") == "");
    CHECK(value(3, "on_goal") == "");
    CHECK(value(3, "depth_m") == "");
}

TEST_CASE("bands.csv: a row for each band, for none and for the total") {
    std::vector<ShotFact> facts(4);
    for (ShotFact& fact : facts)
        fact.outcome = Outcome::save_held;
    facts[0].outcome = Outcome::goal;
    facts[0].band = facts[1].band = Band::base;
    const auto rows = parse(bands_csv(band_tables(facts)));
    REQUIRE(rows.size() == 7);
    CHECK(rows[1][3] == "defensive");
    CHECK(rows[1][9] == "");
    CHECK(rows[3][3] == "base");
    CHECK(rows[3][9] == "0.5");
    CHECK(rows[5][3] == "none");
    CHECK(rows[6][3] == "total");
    CHECK(rows[6][6] == "4");
}

} // namespace ropeline
