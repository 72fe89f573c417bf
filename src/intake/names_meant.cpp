#include "intake/names_meant.h"

#include <algorithm>

namespace ropeline {

namespace {

bool is_byte_of_a_word(char byte) {
    const auto value = static_cast<unsigned char>(byte);
    const bool letter = (value >= 'a' && value <= 'z') || (value >= 'A' && value <= 'Z') || value >= 0x80;
    return letter || byte == '\'';
}

/// Runs of letters; figures, full stops, commas and hyphens stand between.
std::vector<std::string> words_in(std::string_view name) {
    std::vector<std::string> words(1);
    for (const char byte : name) {
        if (is_byte_of_a_word(byte)) {
            words.back() += byte;
        } else if (!words.back().empty()) {
            words.emplace_back();
        }
    }
    if (words.back().empty()) words.pop_back();
    return words;
}

/// One letter, which may be two bytes or more.
bool is_initial(std::string_view word) {
    const auto starts = std::ranges::count_if(
        word, [](char byte) { return (static_cast<unsigned char>(byte) & 0xC0U) != 0x80U; });
    return starts == 1;
}

/// Each written word takes a known one of its own: whole ones first, so that an initial does not take another's word.
bool can_mean(const std::vector<std::string>& written, std::vector<std::string> known) {
    bool whole = false;
    for (const bool initials : {false, true}) {
        for (const std::string& word : written) {
            if (is_initial(word) != initials) continue;
            const auto found = std::ranges::find_if(known, [&](const std::string& one) {
                return initials ? one.starts_with(word) : one == word;
            });
            if (found == known.end()) return false;
            known.erase(found);
            whole = whole || !initials;
        }
    }
    return whole;
}

} // namespace

std::vector<std::size_t> names_meant(std::string_view written, std::span<const std::string> known) {
    std::vector<std::size_t> meant;
    for (std::size_t index = 0; index < known.size(); ++index) {
        if (known[index] == written) meant.push_back(index);
    }
    if (!meant.empty()) return meant;
    const std::vector<std::string> words = words_in(written);
    for (std::size_t index = 0; index < known.size(); ++index) {
        if (can_mean(words, words_in(known[index]))) meant.push_back(index);
    }
    return meant;
}

} // namespace ropeline
