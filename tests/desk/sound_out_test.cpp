// What goes to the loudspeaker, kept in a file by SDL's own driver for that.
#include "desk/made_book.h"
#include "desk/sound_out.h"

#include <SDL.h>
#include <doctest/doctest.h>
#include <fmt/core.h>

#include <algorithm>
#include <chrono>
#include <cstdlib>
#include <fstream>
#include <iterator>
#include <thread>

using namespace ropeline;
using namespace ropeline::test;

namespace {

/// Two seconds of film whose sound is the same everywhere, a half.
std::string film_with_sound(const std::filesystem::path& folder) {
    const auto film = folder / "sound.mkv";
    REQUIRE(
        std::system(fmt::format("ffmpeg -v error -f lavfi -i testsrc=size=64x36:rate=30:duration=2 -f lavfi "
                                "-i aevalsrc=0.5:s=48000:d=2 -c:a pcm_s16le '{}'",
                                film.string())
                        .c_str()) == 0);
    return film.string();
}

/// Seconds of sound that went out.
double heard_s(const std::string& film, double from_s, double until_s, const std::filesystem::path& kept) {
    setenv("SDL_DISKAUDIOFILE", kept.c_str(), 1);
    SoundOut out;
    out.play(film, from_s, until_s);
    const auto pause = [] { std::this_thread::sleep_for(std::chrono::milliseconds(1)); };
    for (int turn = 0; turn < 20000 && !out.heard_s(); ++turn)
        pause();
    for (int turn = 0; turn < 20000 && out.heard_s(); ++turn)
        pause();
    out.stop();
    std::ifstream file(kept, std::ios::binary);
    const std::string bytes{std::istreambuf_iterator<char>(file), {}};
    const auto* samples = reinterpret_cast<const float*>(bytes.data());
    const auto loud = std::count_if(samples, samples + bytes.size() / sizeof(float),
                                    [](float sample) { return sample > 0.25F; });
    return static_cast<double>(loud) / (2 * 48000);
}

} // namespace

TEST_CASE("sound goes out to the time that it is to end at and not a sample further") {
    const Folder folder;
    const std::string film = film_with_sound(folder.path);
    setenv("SDL_AUDIODRIVER", "disk", 1);
    REQUIRE(SDL_InitSubSystem(SDL_INIT_AUDIO) == 0);
    // Half a second of two; a sample of the film's time may be lost to rounding.
    const double half = heard_s(film, 0.25, 0.75, folder.path / "half.raw");
    CHECK(half <= 0.5);
    CHECK(half > 0.49);
    CHECK(heard_s(film, 1.0, 10.0, folder.path / "rest.raw") > 0.9); // to the end of the sound
    SDL_QuitSubSystem(SDL_INIT_AUDIO);
    unsetenv("SDL_AUDIODRIVER");
}
