// A text file of comma-separated values as rows of fields.
// Source: RFC 4180 (quotes doubled, commas and line ends inside quotes, CRLF); beyond it: LF or CR alone, ';'
// or tab between the fields, a UTF-8 byte order mark, Windows-1252 text.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <vector>

namespace ropeline {

struct CsvRow {
    std::size_t line = 1; ///< of the file, from 1, where the row begins
    std::vector<std::string> fields;
};

struct CsvTable {
    char separator = ',';
    std::vector<CsvRow> rows; ///< blank lines left out; fields as they stand, valid UTF-8
    bool western = false;     ///< the text was no UTF-8 and was read as Windows-1252
    std::string trouble;      ///< one line when the file cannot be read as a table, or not to its end
};

/// Splits the file. Never throws for what the bytes are: `trouble` says it, and `rows` holds what came
/// before.
CsvTable csv_table(std::string_view bytes);

} // namespace ropeline
