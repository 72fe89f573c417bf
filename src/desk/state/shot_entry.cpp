#include "desk/state/shot_entry.h"

#include "season/play.h"

#include <algorithm>

namespace ropeline {

const Moment* main_moment(const ShotEntry& entry) {
    return main_moment(std::span{entry.moments});
}

const Mark* find_mark(const Moment& moment, MarkKind kind) {
    const auto found = std::ranges::find(moment.marks, kind, &Mark::kind);
    return found == moment.marks.end() ? nullptr : &*found;
}

} // namespace ropeline
