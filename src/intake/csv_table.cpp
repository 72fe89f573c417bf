#include "intake/csv_table.h"

#include "intake/list_text.h"

#include <fmt/core.h>

#include <algorithm>
#include <array>
#include <optional>

namespace ropeline {

namespace {

// A scorer's list has some dozens of columns and, for a season, some thousands of rows; far beyond that it is another
// kind of file, which may not take the memory that its separators would.
constexpr std::size_t most_columns = 1000;
constexpr std::size_t most_fields = 2'000'000;

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
            if (row.fields.size() > most_columns) {
                too_wide_ = row.line;
                return row;
            }
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
    /// Line of the row that had too many fields.
    std::optional<std::size_t> too_wide() const { return too_wide_; }

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
    std::optional<std::size_t> unclosed_, too_wide_;
};

} // namespace

CsvTable csv_table(std::string_view bytes) {
    CsvTable table;
    const ListText list = list_text(bytes);
    table.encoding = list.encoding;
    table.trouble = list.trouble;
    if (!table.trouble.empty()) return table;
    table.separator = separator_of(list.text);
    Splitter splitter{list.text, table.separator};
    std::size_t fields = 0;
    while (auto row = splitter.row()) {
        if (const auto line = splitter.too_wide()) {
            table.rows.clear();
            table.trouble =
                fmt::format("line {}: more than {} fields in one row; save the list as CSV with a "
                            "row for each shot, then drop it here.",
                            *line, most_columns);
            return table;
        }
        if (const auto line = splitter.unclosed()) {
            table.trouble = fmt::format(
                "line {}: a quotation mark opens a field that never ends; the list is read up to there.",
                *line);
            break;
        }
        const bool blank =
            std::ranges::all_of(row->fields, [](const std::string& field) { return field.empty(); });
        if (blank) continue;
        fields += row->fields.size();
        if (fields > most_fields) {
            table.rows.clear();
            table.trouble =
                "This list has more than two million fields: cut it into a list for each game, then "
                "drop one here.";
            return table;
        }
        table.rows.push_back(std::move(*row));
    }
    if (table.rows.empty() && table.trouble.empty())
        table.trouble = "This list is empty: there is no row in it.";
    return table;
}

} // namespace ropeline
