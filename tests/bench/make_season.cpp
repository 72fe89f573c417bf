// make_season FILE.season SHOTS [SEED]: a season of that many shots, to try the desk on.
#include "bench/made_season.h"

#include <fmt/core.h>

#include <charconv>
#include <exception>
#include <string_view>

namespace {

std::int64_t number(std::string_view text, std::int64_t least) {
    std::int64_t value = 0;
    const auto [end, fault] = std::from_chars(text.data(), text.data() + text.size(), value);
    if (fault != std::errc{} || end != text.data() + text.size() || value < least)
        throw std::runtime_error(fmt::format("{} is no number from {} on", text, least));
    return value;
}

} // namespace

int main(int argc, char** argv) {
    try {
        if (argc < 3) throw std::runtime_error("make_season FILE.season SHOTS [SEED]");
        ropeline::make_season(argv[1], number(argv[2], 1),
                              argc > 3 ? static_cast<std::uint64_t>(number(argv[3], 0)) : 1);
        return 0;
    } catch (const std::exception& error) {
        fmt::print(stderr, "make_season: {}\n", error.what());
        return 1;
    }
}
