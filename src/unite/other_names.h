// Inside src/unite: whether a text names a goalie whom it must not name.
#pragma once

#include <string>
#include <string_view>
#include <vector>

namespace ropeline {

class OtherNames {
public:
    /// In      the names that must not appear, and the one that may: a word that both have is nobody's secret.
    OtherNames(const std::vector<std::string>& others, std::string_view own);

    /// A whole name, or a word of one, whatever its capitals: of three letters as a word, of more wherever it stands.
    bool named_in(std::string_view text) const;

private:
    std::vector<std::string> names_, words_;
};

} // namespace ropeline
