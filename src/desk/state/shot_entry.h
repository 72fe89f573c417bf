// A shot with the moments of its play.
#pragma once

#include "season/records.h"

#include <vector>

namespace ropeline {

struct ShotEntry {
    Shot shot;
    std::vector<Moment> moments;
};

/// The moment the card works on: the release, else the last.
const Moment* main_moment(const ShotEntry& entry);
const Mark* find_mark(const Moment& moment, MarkKind kind);

} // namespace ropeline
