// Whom a name in a scorer's list means: lists write "M. Berg", "Berg, Marta" or "#31 Berg".
#pragma once

#include <cstddef>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace ropeline {

/// In      names with their capitals folded alike
/// Out     the known names that it can mean, by index: those that are the same, else those of which every written word
///         is a word or an initial, at least one of them a word. Numbers say nothing.
std::vector<std::size_t> names_meant(std::string_view written, std::span<const std::string> known);

} // namespace ropeline
