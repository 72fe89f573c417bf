#include "unite/other_names.h"

#include "season/folded.h"
#include "season/trimmed.h"

#include <algorithm>

namespace ropeline {
namespace {

/// Of a folded text; every letter beyond ASCII has bytes from 128 on.
bool is_letter(char letter) {
    return (letter >= 'a' && letter <= 'z') || (letter >= '0' && letter <= '9') ||
           static_cast<unsigned char>(letter) >= 128;
}

std::vector<std::string> words_of(std::string_view folded_text) {
    std::vector<std::string> words(1);
    for (const char letter : folded_text) {
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
    const std::string own_name = folded(trimmed(own));
    const auto own_words = words_of(own_name);
    for (const std::string& other : others) {
        const std::string name = folded(trimmed(other));
        if (!name.empty() && name != own_name) names_.push_back(name);
        for (const std::string& word : words_of(name))
            if (word.size() >= 3 && std::ranges::find(own_words, word) == own_words.end())
                words_.push_back(word);
    }
}

bool OtherNames::named_in(std::string_view text) const {
    const std::string all = folded(text);
    if (std::ranges::any_of(names_,
                            [&](const std::string& name) { return all.find(name) != std::string::npos; }))
        return true;
    const auto words = words_of(all);
    return std::ranges::any_of(words_, [&](const std::string& word) {
        return word.size() > 3 ? all.find(word) != std::string::npos
                               : std::ranges::find(words, word) != words.end();
    });
}

} // namespace ropeline
