// A text file of comma-separated values as rows of fields.
// Source: RFC 4180 (quotes doubled, commas and line ends inside quotes, CRLF); beyond it: LF or CR alone, ';'
// or tab between the fields, and the encodings of `list_text`.
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
    std::vector<CsvRow> rows;            ///< blank lines left out; fields as they stand, valid UTF-8
    std::string_view encoding = "UTF-8"; ///< the file was written in
    std::string trouble; ///< one line when the file cannot be read as a table, or not to its end
};

/// Splits the file.
/// Out     never throws for what the bytes are: `trouble` says it, and `rows` holds what came before an open quotation
///         mark; nothing of a file too long (32 MB) or of too many fields (1000 in a row, two million in all).
CsvTable csv_table(std::string_view bytes);

} // namespace ropeline
