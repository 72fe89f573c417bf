// Rows and fields of a text file: RFC 4180 by example, and against the sqlite3 command line's own reader.
#include "intake/csv_table.h"

#include "season/sample.h"

#include <doctest/doctest.h>
#include <rapidcheck.h>

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <memory>
#include <random>

using namespace ropeline;

namespace {

using Rows = std::vector<std::vector<std::string>>;

Rows rows_of(std::string_view bytes) {
    Rows rows;
    for (const CsvRow& row : csv_table(bytes).rows)
        rows.push_back(row.fields);
    return rows;
}

std::string printed_by(const std::string& command) {
    std::string text;
    const std::unique_ptr<FILE, int (*)(FILE*)> pipe{popen(command.c_str(), "r"), pclose};
    REQUIRE(pipe);
    std::array<char, 4096> some{};
    while (const std::size_t got = std::fread(some.data(), 1, some.size(), pipe.get()))
        text.append(some.data(), got);
    return text;
}

/// The fields as sqlite3's `.import --csv` splits them, in hexadecimal so that line ends survive the way
/// here.
Rows rows_by_sqlite(const std::filesystem::path& csv, std::size_t columns) {
    std::string names;
    std::string hexes;
    for (std::size_t column = 0; column < columns; ++column) {
        names += fmt::format("{}c{}", column > 0 ? ", " : "", column);
        hexes += fmt::format("{}'h' || hex(c{})", column > 0 ? " || " : "", column);
    }
    const std::string printed = printed_by(
        fmt::format("sqlite3 :memory: 'CREATE TABLE t ({});' '.import --csv {} t' \"SELECT {} FROM t "
                    "ORDER BY rowid\"",
                    names, csv.string(), hexes));
    Rows rows;
    std::string field;
    const auto digit = [](char c) { return c <= '9' ? c - '0' : c - 'A' + 10; };
    for (std::size_t at = 0; at < printed.size(); ++at) {
        if (printed[at] == 'h') {
            if (at == 0 || printed[at - 1] == '\n') rows.emplace_back();
            rows.back().emplace_back();
        } else if (printed[at] != '\n') {
            rows.back().back() += static_cast<char>(16 * digit(printed[at]) + digit(printed[at + 1]));
            ++at;
        }
    }
    return rows;
}

std::string written(const Rows& rows, const std::string& line_end) {
    std::string csv;
    for (const auto& row : rows) {
        for (std::size_t column = 0; column < row.size(); ++column) {
            std::string field;
            for (const char c : row[column])
                field += c == '"' ? std::string{"\"\""} : std::string{c};
            const bool plain = field.find_first_of(",;\t\"\r\n") == std::string::npos && column % 2 == 0;
            csv += (column > 0 ? "," : "") + (plain ? field : "\"" + field + "\"");
        }
        csv += line_end;
    }
    return csv;
}

} // namespace

TEST_CASE("a list is split as RFC 4180 says, section 2, and keeps what stands in quotes") {
    CHECK(rows_of("aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n") == Rows{{"aaa", "bbb", "ccc"}, {"zzz", "yyy", "xxx"}});
    CHECK(rows_of("aaa,bbb,ccc\r\nzzz,yyy,xxx") == Rows{{"aaa", "bbb", "ccc"}, {"zzz", "yyy", "xxx"}});
    CHECK(rows_of("\"aaa\",\"b CRLF\r\nbb\",\"ccc\"\r\n") == Rows{{"aaa", "b CRLF\r\nbb", "ccc"}});
    CHECK(rows_of("\"aaa\",\"b\"\"bb\",\"ccc\"") == Rows{{"aaa", "b\"bb", "ccc"}});
    CHECK(rows_of("1,\"12:34, late\",x") == Rows{{"1", "12:34, late", "x"}});
}

TEST_CASE("line ends, separators, marks at the front and empty lines are taken as they come") {
    CHECK(rows_of("a,b\n\n1,2\n") == Rows{{"a", "b"}, {"1", "2"}});
    CHECK(rows_of("a,b\r1,2\r") == Rows{{"a", "b"}, {"1", "2"}});
    CHECK(rows_of("a;b;c,d\n1;2;3") == Rows{{"a", "b", "c,d"}, {"1", "2", "3"}});
    CHECK(rows_of("a\tb\n1\t2,5") == Rows{{"a", "b"}, {"1", "2,5"}});
    CHECK(rows_of("\"a;b;c;d\",e\n1,2") == Rows{{"a;b;c;d", "e"}, {"1", "2"}});
    CHECK(rows_of("\xef\xbb\xbfperiod,clock\n1,2:00") == Rows{{"period", "clock"}, {"1", "2:00"}});
    CHECK(rows_of(",,\n1,,\n") == Rows{{"1", "", ""}});
    CHECK(rows_of("one\ntwo\n") == Rows{{"one"}, {"two"}});
}

TEST_CASE("a row knows the line it begins on, whatever lines stand inside its quotes") {
    const auto table = csv_table("a,b\r\n\"x\r\ny\nz\",1\r\n\r\nlast,2\r\n");
    REQUIRE(table.rows.size() == 3);
    CHECK(table.rows[0].line == 1);
    CHECK(table.rows[1].line == 2);
    CHECK(table.rows[2].line == 6);
}

TEST_CASE("text that is no UTF-8 is read as Windows-1252; other files are told plainly") {
    const auto western = csv_table("goalie,note\nJos\xe9,\x93late\x94\n");
    CHECK(western.encoding == "Windows-1252");
    CHECK(western.rows.at(1).fields == std::vector<std::string>{"José", "“late”"});
    using namespace std::string_view_literals;
    CHECK(csv_table("a,b\x81\x80\n").rows.at(0).fields[1] == "b\uFFFD€"); // 0x81 is one of its five holes
    CHECK(csv_table("period,clock\n1,\0\n12:00 and so on"sv).trouble.find("not a text file") !=
          std::string::npos);
    CHECK(csv_table("").trouble.find("empty") != std::string::npos);
    CHECK(csv_table("\r\n\r\n").trouble.find("empty") != std::string::npos);
    CHECK(csv_table("\xef\xbb\xbf").trouble.find("empty") != std::string::npos);
    CHECK(csv_table("\xff\xfe"sv).trouble.find("empty") != std::string::npos);
    // RFC 3629, section 3: an overlong form, a surrogate and what lies beyond U+10FFFF are no UTF-8.
    for (const std::string no_utf8 : {"\xc0\xaf", "\xed\xa0\x80", "\xf4\x90\x80\x80"})
        CHECK(csv_table(no_utf8).encoding == "Windows-1252");
}

TEST_CASE("UTF-16 of either order, with a mark or without, is read as the iconv command wrote it") {
    const sample::Folder folder;
    const std::string list =
        "period,clock,goalie,note\r\n1,12:34,Åsa Öberg,\"late, “out”\"\r\n2,0:07,Пётр 山,🥅\r\n";
    const Rows rows = rows_of(list);
    std::ofstream(folder / "list.csv", std::ios::binary) << list;
    for (const std::string encoding : {"UTF-16LE", "UTF-16BE"}) {
        const std::string utf16 =
            printed_by(fmt::format("iconv -f UTF-8 -t {} {}", encoding, (folder / "list.csv").string()));
        REQUIRE(utf16.size() > list.size());
        CHECK(csv_table(utf16).encoding == encoding);
        CHECK(rows_of(utf16) == rows);
        const std::string mark = encoding == "UTF-16LE" ? "\xff\xfe" : "\xfe\xff";
        CHECK(rows_of(mark + utf16) == rows);
        const Rows cut_off = rows_of(mark + utf16.substr(0, utf16.size() - 1));
        CHECK(cut_off.back() == std::vector<std::string>{"\uFFFD"}); // half of the last line end
    }
    using namespace std::string_view_literals;
    CHECK(rows_of("\xff\xfe"
                  "a\0\x00\xd8"
                  "b\0"sv) == Rows{{"a\uFFFDb"}}); // RFC 2781, section 2.2: half of a pair
}

TEST_CASE("a file of more fields than any list has is refused in one line and takes no memory") {
    std::string commas(std::size_t{32} << 20, ',');
    CsvTable table = csv_table(commas);
    CHECK(table.trouble.starts_with("line 1: more than 1000 fields"));
    CHECK(table.trouble.find('\n') == std::string::npos);
    CHECK(table.rows.capacity() == 0);

    std::string rows(std::size_t{32} << 20, 'a');
    for (std::size_t at = 1; at < rows.size(); at += 2)
        rows[at] = at % 64 == 63 ? '\n' : ',';
    table = csv_table(rows);
    CHECK(table.trouble.find("two million fields") != std::string::npos);
    CHECK(table.trouble.find('\n') == std::string::npos);
    CHECK(table.rows.empty());

    std::ranges::replace(rows, 'a', ','); // rows of nothing are left out, and held nowhere
    CHECK(csv_table(rows).trouble.find("empty") != std::string::npos);
    rows += ',';
    CHECK(csv_table(rows).trouble.find("32 MB") != std::string::npos);

    std::string widest(999, ',');
    widest += "x\n";
    CHECK(csv_table(widest).rows.at(0).fields.size() == 1000);
    CHECK(csv_table(widest).trouble.empty());
}

TEST_CASE("a quotation mark that never closes is named with its line, and what came before is kept") {
    const auto table = csv_table("a,b\n1,2\n3,\"four\n5,6\n");
    CHECK(table.trouble.starts_with("line 3:"));
    CHECK(table.rows.size() == 2);
}

TEST_CASE("fields are split as sqlite3's own CSV import splits them") {
    const sample::Folder folder;
    const auto path = folder / "list.csv";
    const Rows rows = {{"period", "clock", "what, and how", "note"},
                       {"1", "12:34", "goal", "<b>bold</b> & \"quoted\""},
                       {"2", "", "a line\nand another\r\nand \"one\" more", ",;\t"},
                       {"", "0:01", "\"", "\"\""},
                       {"3", "19:59", "Åsa Öberg-Пётр 山", "  spaces  "}};
    for (const std::string line_end : {"\r\n", "\n"}) {
        std::ofstream(path, std::ios::binary) << written(rows, line_end);
        CHECK(rows_by_sqlite(path, 4) == rows);
        CHECK(rows_of(written(rows, line_end)) == rows);
    }

    // Made up at random out of what lists are made of; one file, since each start of sqlite3 takes a while.
    const std::string letters = "ab12 :,;\t\"\"\n\r.<>&'-";
    std::mt19937 dice{7};
    const auto up_to = [&](std::size_t most) { return static_cast<std::size_t>(dice() % (most + 1)); };
    Rows kept;
    for (int row = 0; row < 400; ++row) {
        auto& fields = kept.emplace_back();
        for (int column = 0; column < 5; ++column) {
            std::string field = column == 0 ? "r" : ""; // a row of nothing at all is no row to us
            for (std::size_t length = up_to(9); length > 0; --length)
                field += letters[up_to(letters.size() - 1)];
            fields.push_back(field);
        }
    }
    std::ofstream(path, std::ios::binary) << written(kept, "\r\n");
    const Rows by_sqlite = rows_by_sqlite(path, 5);
    REQUIRE(by_sqlite.size() == kept.size());
    CHECK(by_sqlite == kept);
    CHECK(rows_of("a,b,c,d,e\r\n" + written(kept, "\r\n")).size() == kept.size() + 1);
    const Rows ours = rows_of("a,b,c,d,e\r\n" + written(kept, "\r\n"));
    CHECK(Rows(ours.begin() + 1, ours.end()) == by_sqlite);
}

TEST_CASE("no bytes at all make the splitter stumble, and no row is longer than the file") {
    CHECK(rc::check([](const std::vector<std::uint8_t>& bytes) {
        const std::string text(bytes.begin(), bytes.end());
        std::size_t held = 0;
        for (const CsvRow& row : csv_table(text).rows) {
            for (const std::string& field : row.fields)
                held += field.size();
        }
        RC_ASSERT(held <= 3 * text.size()); // Windows-1252 grows to three bytes at most
    }));
    CHECK(rc::check([] {
        const auto text =
            *rc::gen::container<std::string>(rc::gen::elementOf(std::string{"\"\",;\t\r\n1:ax\xc3\xa9\xff"}));
        csv_table(text);
    }));
}
