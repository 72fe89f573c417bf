#include "sheet/text.h"

#include <doctest/doctest.h>

namespace ropeline {

TEST_CASE("names are shown whole, and what cannot be shown is replaced") {
    CHECK(printable("Åse Šimić 🥅") == "Åse Šimić 🥅");
    CHECK(printable("two\nlines\tand\r") == "two lines and ");
    CHECK(printable("\x1b[31mred") == "\uFFFD[31mred");
    CHECK(printable(std::string_view("a\0b", 3)) == "a\uFFFDb");
    CHECK(printable("\xc2\x9b"
                    "31m") == "\uFFFD\uFFFD"
                              "31m"); // the one-character form of ESC [
    // RFC 3629, section 3 and 10: overlong forms, surrogates, beyond U+10FFFF and cut-off sequences are no
    // UTF-8.
    CHECK(printable("\xc0\xaf") == "\uFFFD\uFFFD");
    CHECK(printable("\xe0\x80\xaf") == "\uFFFD\uFFFD\uFFFD");
    CHECK(printable("\xed\xa0\x80") == "\uFFFD\uFFFD\uFFFD");
    CHECK(printable("\xf4\x90\x80\x80") == "\uFFFD\uFFFD\uFFFD\uFFFD");
    CHECK(printable("x\xe2\x82") == "x\uFFFD\uFFFD");
    CHECK(printable("\xef\xbf\xbf") == "\uFFFD\uFFFD\uFFFD");
    CHECK(printable("\xff") == "\uFFFD");
    CHECK(printable("").empty());
}

TEST_CASE("a save percentage has three digits and no nought in front") {
    // Common practice, no source: .912, and 1.000 for a shut-out.
    CHECK(percentage_text(0.9121) == ".912");
    CHECK(percentage_text(0.0) == ".000");
    CHECK(percentage_text(1.0) == "1.000");
    CHECK(percentage_text(0.99951) == "1.000");
    CHECK(percentage_text(std::nullopt) == "-");
}

} // namespace ropeline
