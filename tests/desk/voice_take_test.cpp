// A microphone without hardware: SDL's own driver reads what is "heard" from a file, or there is none at all.
#include "desk/made_book.h"
#include "desk/voice_take.h"

#include <SDL.h>
#include <doctest/doctest.h>
#include <fmt/core.h>

#include <algorithm>
#include <chrono>
#include <cstdlib>
#include <cstring>
#include <fstream>
#include <iterator>
#include <thread>

using namespace ropeline;
using namespace ropeline::test;

namespace {

std::vector<std::int16_t> samples_in(const std::filesystem::path& raw) {
    std::ifstream file(raw, std::ios::binary);
    const std::string bytes{std::istreambuf_iterator<char>(file), {}};
    std::vector<std::int16_t> samples(bytes.size() / sizeof(std::int16_t));
    std::memcpy(samples.data(), bytes.data(), samples.size() * sizeof(std::int16_t));
    return samples;
}

void run(const std::string& command) {
    REQUIRE(std::system(command.c_str()) == 0);
}

struct NoHardware {
    explicit NoHardware(const char* driver) { setenv("SDL_AUDIODRIVER", driver, 1); }
    ~NoHardware() {
        SDL_QuitSubSystem(SDL_INIT_AUDIO);
        unsetenv("SDL_AUDIODRIVER");
    }
};

} // namespace

TEST_CASE("what the microphone hears is kept sample by sample in a file that ffmpeg plays, and its level is "
          "known") {
    const Folder folder;
    const auto heard = folder.path / "heard.raw", kept = folder.path / "kept.wav",
               again = folder.path / "again.raw";
    run(fmt::format(
        "ffmpeg -v error -f lavfi -i sine=440:d=1:sample_rate=48000 -af volume=4 -ac 1 -f s16le '{}'",
        heard.string()));
    setenv("SDL_DISKAUDIOFILEIN", heard.c_str(), 1);
    setenv("SDL_DISKAUDIODELAY", "1", 1); // milliseconds for what would take 21
    const NoHardware disk{"disk"};
    VoiceTake take;
    double loudest = 0.0;
    for (int turn = 0; turn < 20000 && take.seconds() < 1.5; ++turn) {
        take.gather();
        loudest = std::max(loudest, static_cast<double>(take.level()));
        std::this_thread::sleep_for(std::chrono::milliseconds(1));
    }
    REQUIRE(take.seconds() >= 1.5);
    CHECK(loudest ==
          doctest::Approx(0.5).epsilon(0.02)); // ffmpeg's sine has an eighth of full, four times that
    CHECK(take.level() == 0.0F);               // the file is at its end
    std::ofstream(kept, std::ios::binary) << wav_of(take.samples(), VoiceTake::rate_hz);
    run(fmt::format("ffmpeg -v error -i '{}' -f s16le -ac 1 -ar 48000 '{}'", kept.string(), again.string()));
    const auto said = samples_in(heard), played = samples_in(again);
    CHECK(said.size() == 48000);
    REQUIRE(played.size() >= said.size());
    CHECK(std::equal(said.begin(), said.end(), played.begin()));
    unsetenv("SDL_DISKAUDIOFILEIN");
    unsetenv("SDL_DISKAUDIODELAY");
}

TEST_CASE("without a microphone there is one line that says so and what to do") {
    const NoHardware none{"no such driver"};
    std::string why;
    try {
        const VoiceTake take;
    } catch (const std::runtime_error& error) {
        why = error.what();
    }
    CHECK(why.starts_with("No microphone can be used ("));
    CHECK(why.ends_with("): plug one in, then record again."));
    CHECK(why.find('\n') == std::string::npos);
}
