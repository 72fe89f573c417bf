#include "reel/captions.h"

#include "film/movie_writer.h"
#include "sheet/text.h"

#include <fmt/core.h>

#include <string_view>

namespace ropeline {
namespace {

std::string stamp(std::int64_t ticks) {
    const std::int64_t ms = (ticks * 1000 + movie_ticks_per_s / 2) / movie_ticks_per_s;
    return fmt::format("{:02}:{:02}:{:02}.{:03}", ms / 3600000, ms / 60000 % 60, ms / 1000 % 60, ms % 1000);
}

/// Line by line; an empty line would end the cue.
std::string cue_text(std::string_view text) {
    std::string safe;
    while (!text.empty()) {
        const std::size_t end = text.find('\n');
        const std::string_view line = text.substr(0, end);
        if (!line.empty()) {
            for (const char c : printable(line))
                safe += c == '&' ? "&amp;" : c == '<' ? "&lt;" : c == '>' ? "&gt;" : std::string(1, c);
            safe += '\n';
        }
        text.remove_prefix(end == std::string_view::npos ? text.size() : end + 1);
    }
    return safe;
}

} // namespace

std::string web_vtt(std::span<const Caption> captions) {
    std::string file = "WEBVTT\n";
    for (const Caption& caption : captions)
        file += fmt::format("\n{} --> {}\n{}", stamp(caption.begins), stamp(caption.ends),
                            cue_text(caption.text));
    return file;
}

} // namespace ropeline
