#include "publish/copy_line.h"

#include <fmt/core.h>
#include <sqlite3.h>

#include <iterator>

namespace ropeline {
namespace {

std::string_view text_at(sqlite3_stmt* row, int column) {
    const auto* bytes = reinterpret_cast<const char*>(sqlite3_column_text(row, column));
    return bytes ? std::string_view{bytes, static_cast<std::size_t>(sqlite3_column_bytes(row, column))}
                 : std::string_view{};
}

void add_escaped(std::string& line, std::string_view text) {
    for (const char letter : text) {
        switch (letter) {
        case '\\':
            line += "\\\\";
            break;
        case '\t':
            line += "\\t";
            break;
        case '\n':
            line += "\\n";
            break;
        case '\r':
            line += "\\r";
            break;
        default:
            line += letter;
        }
    }
}

} // namespace

std::string text_list(std::string_view one, std::string_view other) {
    std::string list = "{";
    for (const std::string_view name : {one, other}) {
        if (name.empty()) continue;
        list += list.size() == 1 ? "\"" : ",\"";
        for (const char letter : name) {
            if (letter == '"' || letter == '\\') list += '\\';
            list += letter;
        }
        list += '"';
    }
    return list + "}";
}

CopyLine copy_line(sqlite3_stmt* row, const std::string& season_id, int short_path) {
    CopyLine line;
    add_escaped(line.text, season_id);
    line.text += '\t';
    add_escaped(line.text, text_list(text_at(row, 0), text_at(row, 1)));
    for (int i = 2; i < sqlite3_column_count(row); ++i) {
        line.text += '\t';
        const int type = sqlite3_column_type(row, i);
        std::string_view text = type == SQLITE_FLOAT ? std::string_view{} : text_at(row, i);
        if (i == short_path) text = text.substr(text.find_last_of("/\\") + 1);
        if (type == SQLITE_NULL)
            line.text += "\\N";
        else if (type == SQLITE_FLOAT)
            fmt::format_to(std::back_inserter(line.text), "{}", sqlite3_column_double(row, i));
        else
            add_escaped(line.text, text);
    }
    return line;
}

} // namespace ropeline
