#include "verbs/verbs.h"

#include <array>

namespace ropeline {

std::span<const AddVerb> all_verbs() {
    static constexpr std::array<AddVerb, 14> verbs{
        add_open,    add_film,    add_measure, add_carry,   add_summary, add_reel,  add_still,
        add_handout, add_answers, add_merge,   add_extract, add_publish, add_check, add_demo};
    return verbs;
}

} // namespace ropeline
