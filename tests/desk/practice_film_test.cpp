#include "desk/state/practice_film.h"

#include "film/clips.h"

#include <doctest/doctest.h>

#include <atomic>
#include <chrono>
#include <fstream>
#include <stdexcept>
#include <thread>

using namespace ropeline;

namespace {

void nap() {
    std::this_thread::sleep_for(std::chrono::milliseconds(1));
}

} // namespace

TEST_CASE(
    "leaving the desk while the practice film is rendered ends the rendering at the next share it tells") {
    const clips::Folder folder;
    constexpr int whole = 20'000;
    std::atomic<int> told{0};
    {
        const PracticeFilm film(folder.path(), [&](const auto&, const std::function<void(int)>& tell) {
            while (told < whole) {
                tell(100 * told / whole);
                ++told;
                nap();
            }
        });
        while (told == 0)
            nap();
    }
    CHECK(told < whole);
}

TEST_CASE("a practice film that is there already is not rendered again, and a failed one says why") {
    const clips::Folder folder;
    const MakeFilm fails = [](const auto&, const auto&) { throw std::runtime_error("The disk is full."); };
    const auto outcome = [&] {
        const PracticeFilm film(folder.path(), fails);
        while (!film.done())
            nap();
        return film.error();
    };
    CHECK(outcome() == "The disk is full.");
    std::ofstream(folder.file("end_zone.mp4")) << "a film";
    CHECK(outcome().empty());
}
