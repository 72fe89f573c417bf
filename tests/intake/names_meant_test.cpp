// Names as scorers write them (common practice, no source) against the names of a season, capitals folded before.
#include "intake/names_meant.h"

#include <doctest/doctest.h>

using namespace ropeline;

namespace {

const std::vector<std::string> season{"marta berg",    "mika berg", "ilse varga",
                                      "åsa lind-holm", "jo o'day",  "berg marta olsen"};

std::vector<std::string> meant(std::string_view written) {
    std::vector<std::string> names;
    for (const std::size_t index : names_meant(written, season))
        names.push_back(season[index]);
    return names;
}

using Names = std::vector<std::string>;

} // namespace

TEST_CASE("the whole name means one, whatever else begins like it") {
    CHECK(meant("marta berg") == Names{"marta berg"});
}

TEST_CASE("two goalies of one name are both meant") {
    const std::vector<std::string> namesakes{"jo day", "ilse varga", "jo day"};
    CHECK(names_meant("jo day", namesakes) == std::vector<std::size_t>{0, 2});
}

TEST_CASE("an initial, a last name, a turned name, a number on the back: all find the one that fits") {
    CHECK(meant("i. varga") == Names{"ilse varga"});
    CHECK(meant("varga, ilse") == Names{"ilse varga"});
    CHECK(meant("varga i") == Names{"ilse varga"});
    CHECK(meant("#31 varga") == Names{"ilse varga"});
    CHECK(meant("varga") == Names{"ilse varga"});
    CHECK(meant("å. lind holm") == Names{"åsa lind-holm"});
    CHECK(meant("j. o'day") == Names{"jo o'day"});
}

TEST_CASE("several fit: all of them are told, in the season's order") {
    CHECK(meant("m. berg") == Names{"marta berg", "mika berg", "berg marta olsen"});
    CHECK(meant("mi. berg").empty()); // two letters are no initial
    CHECK(meant("berg, m. o.") == Names{"berg marta olsen"});
}

TEST_CASE("initials alone, numbers and strangers mean nobody") {
    for (const char* written : {"m. b.", "31", "", "kim holt", "ilse berg", "v. ilse b.", "varga varga"})
        CHECK(meant(written).empty());
}
