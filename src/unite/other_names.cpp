#include "unite/other_names.h"

#include "season/trimmed.h"

#include <algorithm>

namespace ropeline {
namespace {

/// Capitals of ASCII made small; other letters stay as they are.
std::string small(std::string_view text) {
    std::string all{text};
    std::ranges::transform(all, all.begin(), [](char letter) {
        return letter >= 'A' && letter <= 'Z' ? static_cast<char>(letter - 'A' + 'a') : letter;
    });
    return all;
}

bool is_letter(char letter) {
    return (letter >= 'a' && letter <= 'z') || (letter >= '0' && letter <= '9') ||
           static_cast<unsigned char>(letter) >= 128;
}

std::vector<std::string> words_of(std::string_view text) {
    std::vector<std::string> words(1);
    for (const char letter : small(text)) {
        if (is_letter(letter))
            words.back() += letter;
        else if (!words.back().empty())
            words.emplace_back();
    }
    if (words.back().empty()) words.pop_back();
    return words;
}

} // namespace

OtherNames::OtherNames(const std::vector<std::string>& others, std::string_view own) {
    const auto own_words = words_of(own);
    for (const std::string& other : others) {
        if (const auto name = small(trimmed(other)); !name.empty() && name != small(trimmed(own)))
            names_.push_back(name);
        for (const std::string& word : words_of(other))
            if (word.size() >= 3 && std::ranges::find(own_words, word) == own_words.end())
                words_.push_back(word);
    }
}

bool OtherNames::named_in(std::string_view text) const {
    const std::string all = small(text);
    if (std::ranges::any_of(names_,
                            [&](const std::string& name) { return all.find(name) != std::string::npos; }))
        return true;
    const auto words = words_of(text);
    return std::ranges::any_of(words_, [&](const std::string& word) {
        return word.size() > 3 ? all.find(word) != std::string::npos
                               : std::ranges::find(words, word) != words.end();
    });
}

} // namespace ropeline
