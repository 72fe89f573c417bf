// The text of a list, however it is encoded.
#pragma once

#include <string>
#include <string_view>

namespace ropeline {

struct ListText {
    std::string_view encoding =
        "UTF-8";         ///< it was written in: "UTF-8", "UTF-16LE", "UTF-16BE", "Windows-1252"
    std::string text;    ///< valid UTF-8, without a byte order mark
    std::string trouble; ///< one line when these bytes are no text of that length; `text` is then empty
};

/// The bytes as UTF-8: told by a byte order mark, else UTF-16 by its noughts, else UTF-8 where it is valid, else
/// Windows-1252. What an encoding has no character for becomes U+FFFD.
/// Source  RFC 3629 (UTF-8), RFC 2781 (UTF-16); the tables are those of the C library's iconv.
ListText list_text(std::string_view bytes);

} // namespace ropeline
