#include "intake/csv_table.h"

#include "season/utf8.h"

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <cstdint>
#include <optional>

namespace ropeline {

namespace {

constexpr std::size_t most_bytes = 32u << 20u; // ten times what 100 000 rows of a scorer's list take

bool is_utf8(std::string_view text) {
    while (!text.empty()) {
        const std::size_t length = character_length(text);
        if (length == 0) return false;
        text.remove_prefix(length);
    }
    return true;
}

std::string utf8_of(unsigned code) {
    if (code < 0x80) return {static_cast<char>(code)};
    if (code < 0x800)
        return {static_cast<char>(0xc0U | (code >> 6U)), static_cast<char>(0x80U | (code & 0x3fU))};
    return {static_cast<char>(0xe0U | (code >> 12U)), static_cast<char>(0x80U | ((code >> 6U) & 0x3fU)),
            static_cast<char>(0x80U | (code & 0x3fU))};
}

/// Source: the Windows-1252 code page, 0x80 to 0x9f, from memory; its five holes become U+FFFD.
std::string from_western(std::string_view text) {
    constexpr std::array<std::uint16_t, 32> upper = {
        0x20ac, 0xfffd, 0x201a, 0x0192, 0x201e, 0x2026, 0x2020, 0x2021, 0x02c6, 0x2030, 0x0160,
        0x2039, 0x0152, 0xfffd, 0x017d, 0xfffd, 0xfffd, 0x2018, 0x2019, 0x201c, 0x201d, 0x2022,
        0x2013, 0x2014, 0x02dc, 0x2122, 0x0161, 0x203a, 0x0153, 0xfffd, 0x017e, 0x0178};
    std::string out;
    out.reserve(text.size() + text.size() / 8);
    for (const char c : text) {
        const unsigned code = static_cast<std::uint8_t>(c);
        out += utf8_of(code >= 0x80 && code < 0xa0 ? upper.at(code - 0x80) : code);
    }
    return out;
}

/// Why these bytes are no text that can be split; empty when they are.
std::string not_text(std::string_view bytes) {
    if (bytes.starts_with("\xff\xfe") || bytes.starts_with("\xfe\xff"))
        return "This list is written as UTF-16: save it again as CSV UTF-8, then drop it here.";
    const std::string_view head = bytes.substr(0, 4096);
    const auto zeros = std::ranges::count(head, '\0');
    if (2 * zeros + 2 >= static_cast<std::ptrdiff_t>(head.size()) && zeros > 0)
        return "This list looks like UTF-16 without a mark: save it again as CSV UTF-8, then drop it here.";
    if (bytes.find('\0') != std::string_view::npos)
        return "This is not a text file: save the list as CSV, then drop it here.";
    if (bytes.size() > most_bytes)
        return "This list is longer than 32 MB: cut it into a list for each game, then drop one here.";
    return {};
}

/// The separator that stands most often in the first line, outside quotes.
char separator_of(std::string_view text) {
    std::array<std::size_t, 3> counts{};
    constexpr std::array separators = {',', ';', '\t'};
    bool quoted = false;
    for (const char c : text) {
        if (c == '"') quoted = !quoted;
        if (quoted) continue;
        if (c == '\n' || c == '\r') {
            if (std::ranges::any_of(counts, [](std::size_t n) { return n > 0; })) break;
            continue; // a line without any: a title, or one column
        }
        for (std::size_t i = 0; i < separators.size(); ++i)
            counts.at(i) += c == separators.at(i) ? 1 : 0;
    }
    return separators.at(static_cast<std::size_t>(std::ranges::max_element(counts) - counts.begin()));
}

class Splitter {
public:
    Splitter(std::string_view text, char separator) : text_(text), separator_(separator) {}

    /// The next row; nothing at the end.
    std::optional<CsvRow> row() {
        if (at_ >= text_.size()) return std::nullopt;
        CsvRow row;
        row.line = line_;
        for (;;) {
            row.fields.push_back(field());
            if (at_ >= text_.size()) return row;
            const char c = text_[at_++];
            if (c == separator_) continue;
            if (c == '\r' && at_ < text_.size() && text_[at_] == '\n') ++at_;
            ++line_;
            return row;
        }
    }
    /// Line of the quotation mark that never closed.
    std::optional<std::size_t> unclosed() const { return unclosed_; }

private:
    bool ends_field(char c) const { return c == separator_ || c == '\n' || c == '\r'; }

    std::string field() {
        std::string out;
        if (at_ < text_.size() && text_[at_] == '"') {
            const std::size_t opened = line_;
            ++at_;
            for (;;) {
                if (at_ >= text_.size()) {
                    unclosed_ = opened;
                    return out;
                }
                const char c = text_[at_++];
                if (c == '"') {
                    if (at_ >= text_.size() || text_[at_] != '"') break;
                    ++at_;
                }
                const bool crlf = c == '\r' && at_ < text_.size() && text_[at_] == '\n';
                if (c == '\n' || (c == '\r' && !crlf)) ++line_;
                out += c;
            }
        }
        while (at_ < text_.size() && !ends_field(text_[at_]))
            out += text_[at_++];
        return out;
    }

    std::string_view text_;
    char separator_;
    std::size_t at_ = 0, line_ = 1;
    std::optional<std::size_t> unclosed_;
};

} // namespace

CsvTable csv_table(std::string_view bytes) {
    CsvTable table;
    table.trouble = not_text(bytes);
    if (!table.trouble.empty()) return table;
    if (bytes.starts_with("\xef\xbb\xbf")) bytes.remove_prefix(3);
    std::string converted;
    if (!is_utf8(bytes)) {
        table.western = true;
        converted = from_western(bytes);
        bytes = converted;
    }
    table.separator = separator_of(bytes);
    Splitter splitter{bytes, table.separator};
    while (auto row = splitter.row()) {
        if (const auto line = splitter.unclosed()) {
            table.trouble = fmt::format(
                "line {}: a quotation mark opens a field that never ends; the list is read up to there.",
                *line);
            break;
        }
        const bool blank =
            std::ranges::all_of(row->fields, [](const std::string& field) { return field.empty(); });
        if (!blank) table.rows.push_back(std::move(*row));
    }
    if (table.rows.empty() && table.trouble.empty())
        table.trouble = "This list is empty: there is no row in it.";
    return table;
}

} // namespace ropeline
