// Damages small films at random (cut, flipped bits, spliced parts) and visits their frames in every
// direction, each film in a process of its own: a crash, an abort or a film that takes too long is a finding,
// and its file is kept. film_fuzz SECONDS [SEED]; ROPELINE_LONG_TESTS in the environment makes it sixty times as long.
#include <chrono>
#include <cstdio>
#include <cstdlib>
#include <fstream>
#include <random>
#include <string>
#include <sys/wait.h>
#include <thread>
#include <unistd.h>
#include <vector>

#include "film/film_desk.h"
#include "film/film_error.h"
#include "film/format_clips.h"
#include "film/sound.h"

using namespace ropeline;

namespace {

constexpr unsigned longest_s = 60; // for one film of at most 200 visits

using Random = std::mt19937_64;

std::string bytes_of(const std::string& path) {
    std::ifstream file(path, std::ios::binary);
    return {std::istreambuf_iterator<char>(file), {}};
}

std::vector<std::string> sources(const clips::Folder& folder) {
    std::vector<std::string> all;
    for (const clips::Clip& clip : clips::format_clips()) {
        clips::make(clip, folder.path().string());
        all.push_back(folder.file(clip.file));
    }
    return all;
}

std::string damaged(std::string film, const std::string& other, Random& random) {
    const auto place = [&](std::size_t size) {
        return static_cast<std::size_t>(random() % std::max<std::size_t>(1, size));
    };
    for (auto times = random() % 3 + 1; times > 0; --times) {
        switch (random() % 5) {
        case 0:
            film.resize(place(film.size()));
            break;
        case 1:
            film.erase(0, place(film.size()));
            break;
        case 2:
            for (auto flips = random() % 64 + 1; flips > 0 && !film.empty(); --flips) {
                film[place(film.size())] ^= static_cast<char>(1 << random() % 8);
            }
            break;
        case 3:
            film.erase(place(film.size()), place(film.size() / 4));
            break;
        default:
            film.insert(place(film.size()), other, place(other.size()), place(other.size() / 2));
            break;
        }
    }
    return film;
}

// Every wish must end with a picture or with the word that there is none.
void visit_at_the_desk(const std::string& path, Random& random) {
    const auto wait = [] { std::this_thread::sleep_for(std::chrono::microseconds(200)); };
    FilmDesk desk(path, std::size_t{1} << 20);
    while (desk.state() == FilmDesk::State::opening)
        wait();
    if (desk.state() == FilmDesk::State::failed) return;
    const std::int64_t count = desk.frames()->count();
    for (int i = 0; i < 12; ++i) {
        const FrameIndex frame{static_cast<std::int64_t>(random() % static_cast<unsigned long>(count))};
        desk.want(frame, static_cast<int>(random() % 3) - 1);
        while (!desk.cached(frame) && desk.missing(frame).empty())
            wait();
    }
    static_cast<void>(desk.holes());
}

void visit(const std::string& path, Random random) {
    alarm(longest_s);
    try {
        FilmReader film(path, {.cache_bytes = std::size_t{1} << 20});
        const std::int64_t count = film.frames().count();
        std::int64_t at = 0;
        for (int i = 0; i < 200; ++i) {
            const auto draw = random() % 8;
            at = draw == 0 ? static_cast<std::int64_t>(random() % static_cast<unsigned long>(count))
                 : i < 100 ? at + 1
                           : at - 1;
            at = number(film.frames().clamp(at));
            try {
                static_cast<void>(film.picture(FrameIndex{at})->md5());
            } catch (const FilmError&) {
            }
        }
        static_cast<void>(film.holes());
        visit_at_the_desk(path, random);
        static_cast<void>(FilmReader(path, {.kept_index = film.index_to_keep()}).frames());
    } catch (const FilmError&) {
    }
    try {
        FilmSound sound(path);
        std::vector<float> samples(9600);
        sound.go_to(1.0);
        static_cast<void>(sound.read(samples));
    } catch (const FilmError&) {
    }
}

} // namespace

int main(int argc, char** argv) {
    const double longer = std::getenv("ROPELINE_LONG_TESTS") ? 60.0 : 1.0;
    const double seconds = longer * (argc > 1 ? std::atof(argv[1]) : 10.0);
    const std::uint64_t seed = argc > 2 ? std::strtoull(argv[2], nullptr, 10) : std::random_device{}();
    std::printf("seed %llu\n", static_cast<unsigned long long>(seed));
    const clips::Folder folder;
    const auto films = sources(folder);
    Random random(seed);
    const auto start = std::chrono::steady_clock::now();
    long tried = 0;
    int findings = 0;
    while (std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count() < seconds) {
        const std::string& source = films[random() % films.size()];
        const std::string bytes = damaged(bytes_of(source), bytes_of(films[random() % films.size()]), random);
        const std::string path = folder.file("damaged" + source.substr(source.rfind('.')));
        std::ofstream(path, std::ios::binary) << bytes;
        const Random child_random(random());
        std::fflush(nullptr);
        const pid_t child = fork();
        if (child == 0) {
            visit(path, child_random);
            _exit(0);
        }
        int status = 0;
        waitpid(child, &status, 0);
        ++tried;
        if (status == 0) continue;
        ++findings;
        const std::string kept = "film_fuzz_finding_" + std::to_string(seed) + "_" + std::to_string(tried) +
                                 source.substr(source.rfind('.'));
        std::ofstream(kept, std::ios::binary) << bytes;
        std::printf("finding: %s (signal %d, status %d), from %s\n", kept.c_str(), WTERMSIG(status),
                    WEXITSTATUS(status), source.c_str());
    }
    std::printf("%ld damaged films, %d findings\n", tried, findings);
    return findings == 0 ? 0 : 1;
}
