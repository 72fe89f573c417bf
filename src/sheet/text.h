// Text from a season (names, notes) made fit to be shown somewhere, and figures as a coach writes them.
#pragma once

#include <optional>
#include <string>
#include <string_view>

namespace ropeline {

/// The text as valid UTF-8 without control characters: line ends and tabs become spaces, everything else that
/// cannot be shown becomes U+FFFD. Safe for a terminal and for XML once escaped.
std::string printable(std::string_view text);

/// The same with & < > " ' as entities: text and nothing else between tags and in quoted attributes of HTML and SVG.
std::string markup(std::string_view text);

/// A save percentage or one end of its interval: .912, 1.000; "-" for none.
std::string percentage_text(const std::optional<double>& share);

} // namespace ropeline
