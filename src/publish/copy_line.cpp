#include "publish/copy_line.h"

#include <fmt/core.h>

#include <iterator>

namespace ropeline {
namespace {

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

CopyLine copy_line(const RawStatement& row, const std::string& season_id, int short_path) {
    CopyLine line;
    add_escaped(line.text, season_id);
    line.text += '\t';
    add_escaped(line.text, text_list(row.text(0), row.text(1)));
    for (int i = 2; i < row.columns(); ++i) {
        line.text += '\t';
        if (row.is_null(i)) {
            line.text += "\\N";
        } else if (row.is_real(i)) {
            fmt::format_to(std::back_inserter(line.text), "{}", row.real(i));
        } else {
            std::string_view text = row.text(i);
            if (i == short_path) text = text.substr(text.find_last_of("/\\") + 1);
            add_escaped(line.text, text);
        }
    }
    return line;
}

} // namespace ropeline
