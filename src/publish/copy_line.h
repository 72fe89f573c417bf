// Inside src/publish: a row of a season as the line that COPY takes.
#pragma once

#include "season/raw_statement.h"

#include <string>
#include <string_view>

namespace ropeline {

/// The names as PostgreSQL writes a list of texts; empty ones are left out.
/// Source  postgresql.org/docs/15, 8.15.2 "Array Value Input".
std::string text_list(std::string_view one, std::string_view other);

/// One row in the text format of COPY, without its line end; numbers with all their digits.
/// Source  postgresql.org/docs/15, "COPY", Text Format.
struct CopyLine {
    std::string text;
};

/// In      a row whose first two columns are teams. `short_path`: which column holds a path, of which only the file's own
///         name leaves the house; -1: none.
CopyLine copy_line(const RawStatement& row, const std::string& season_id, int short_path);

} // namespace ropeline
