#include "season/dates.h"

#include <doctest/doctest.h>

using namespace ropeline;

TEST_CASE("a day is one that there is, written with all its digits") {
    CHECK(is_day("2026-11-25"));
    CHECK(is_day("2028-02-29"));
    for (const char* text : {"", "2026-11-2", "2026-11-250", "2026-11-31", "2027-02-29", "2026-13-01",
                             "2026/11/25", "+026-11-25", "2026- 1- 5", "2026-+1-+5"}) {
        CAPTURE(text);
        CHECK_FALSE(is_day(text));
    }
}

TEST_CASE("days after a day go over the ends of months and years") {
    CHECK(days_after("2026-12-31", 1) == "2027-01-01");
    CHECK(days_after("2028-02-28", 2) == "2028-03-01");
}
