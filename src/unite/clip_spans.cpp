#include "unite/clip_spans.h"

#include <algorithm>

namespace ropeline {

std::vector<FrameSpan> clip_spans(std::vector<PlayFrames> own, const std::vector<FrameSpan>& of_others,
                                  std::int64_t apart) {
    for (PlayFrames& play : own) {
        for (const FrameSpan& other : of_others) {
            if (other.first <= play.marked.first)
                play.wide.first = std::max(play.wide.first, std::min(other.last + apart, play.marked.first));
            if (other.last >= play.marked.last)
                play.wide.last = std::min(play.wide.last, std::max(other.first - apart, play.marked.last));
        }
    }
    std::ranges::sort(own, {}, [](const PlayFrames& play) { return play.wide.first; });
    std::vector<FrameSpan> spans;
    for (const PlayFrames& play : own) {
        if (!spans.empty() && play.wide.first <= spans.back().last + 1)
            spans.back().last = std::max(spans.back().last, play.wide.last);
        else
            spans.push_back(play.wide);
    }
    return spans;
}

} // namespace ropeline
