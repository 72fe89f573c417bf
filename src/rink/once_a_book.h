// Inside src/rink: what follows from a rule book alone is worked out once.
#pragma once

#include "rink/rule_book.h"

#include <map>
#include <mutex>

namespace ropeline {

/// In      `make`: a pure function of the rule book.
/// Out     what it makes, by the book's id; stands until the program ends. Safe from any thread.
template <auto make>
const auto& once_a_book(const RuleBook& rules) {
    static std::mutex guard;
    static std::map<RuleBookId, decltype(make(rules))> made;
    const std::lock_guard lock{guard};
    const auto known = made.find(rules.id);
    return known != made.end() ? known->second : made.emplace(rules.id, make(rules)).first->second;
}

} // namespace ropeline
