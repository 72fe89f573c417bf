// How fast a film is looked through, and how well its chances are found: chances_bench FOLDER SEED MINUTES CHANCES RATE WIDTH [tripod]
#include "chances/film_looker.h"
#include "chances/made_game.h"

#include <fmt/core.h>

#include <chrono>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <string>

using namespace ropeline;

int main(int count, char** words) {
    const std::string folder = words[1];
    GameWanted wanted{.seed = static_cast<unsigned>(std::atoi(words[2])),
                      .length_s = 60.0 * std::atof(words[3]),
                      .chances = std::atoi(words[4]),
                      .rate_hz = std::atoi(words[5])};
    wanted.size = {std::atoi(words[6]), std::atoi(words[6]) * 9 / 16};
    wanted.television = count < 8;
    const MadeGame game(wanted);
    const std::string path = fmt::format("{}/game_{}_{}_{}_{}_{}{}.mp4", folder, words[2], words[3], words[4], words[5], words[6], count < 8 ? "" : "_t");
    using Clock = std::chrono::steady_clock;
    auto start = Clock::now();
    const auto passed = [&] { return std::chrono::duration<double>(Clock::now() - start).count(); };
    if (!std::filesystem::exists(path)) game.write(path);
    fmt::print("rendered in {:.1f} s\n", passed());
    start = Clock::now();
    std::vector<Looked> looks; std::vector<Heard> heard;
    const std::string store = path + ".looks";
    if (std::FILE* f = std::fopen(store.c_str(), "rb")) {
        std::size_t n[2]; if (std::fread(n, sizeof n, 1, f) != 1) return 1;
        looks.resize(n[0]); heard.resize(n[1]);
        if (std::fread(looks.data(), sizeof(Looked), n[0], f) != n[0]) return 1;
        if (std::fread(heard.data(), sizeof(Heard), n[1], f) != n[1]) return 1;
        std::fclose(f);
    } else {
        FilmLooker film(path, {}, 0.0);
        film.listen_to(1e9);
        fmt::print("heard {:.2f}\n", passed());
        while (film.look()) {}
        fmt::print("looked {:.2f} s for {:.0f} s, {} decoded, {} looks\n", passed(), wanted.length_s, film.decoded(), film.looks().size());
        looks = film.looks(); heard = film.heard();
        f = std::fopen(store.c_str(), "wb");
        const std::size_t n[2] = {looks.size(), heard.size()};
        std::fwrite(n, sizeof n, 1, f); std::fwrite(looks.data(), sizeof(Looked), n[0], f); std::fwrite(heard.data(), sizeof(Heard), n[1], f); std::fclose(f);
    }
    const FilmMarks marks = marks_of(looks, heard, 0.0);
    fmt::print("marks {:.3f} s\n", passed());
    const GameTruth& truth = game.truth();
    const auto near = [](const auto& all, double at, double within, auto time_of) {
        for (const auto& one : all)
            if (std::abs(time_of(one) - at) <= within) return true;
        return false;
    };
    const auto self = [](double s) { return s; };
    const auto of_chance = [](const LikelyChance& one) { return one.at_s; };
    const auto of_stretch = [](const Stretch& one) { return one.first_s; };
    int found = 0, idle = 0;
    for (double at : truth.chances_s) {
        const bool hit = near(marks.chances, at, 3.0, of_chance);
        found += hit;
        fmt::print("chance {:.1f} {}\n", at, hit ? "" : "MISSED");
    }
    for (const LikelyChance& one : marks.chances) {
        const bool hit = near(truth.chances_s, one.at_s, 3.0, self);
        idle += !hit;
        const char* cams[] = {"main", "replay", "close", "other"}; const char* cam = "?";
        for (const GamePiece& piece : game.pieces()) if (piece.first_s <= one.at_s) cam = cams[static_cast<int>(piece.camera)];
        fmt::print("  mark {:.1f} {:.2f} {} {} {}\n", one.at_s, one.score, hit ? "+" : "-", cam, game.net_in_picture(static_cast<int>(one.at_s * wanted.rate_hz + 0.5)) ? "" : "no net");
    }
    int cuts = 0, false_cuts = 0;
    for (double at : truth.cuts_s) { const bool hit = near(marks.cuts_s, at, 0.7, self); cuts += hit; if (!hit) fmt::print("cut {} missed\n", at); }
    for (double at : marks.cuts_s) if (!near(truth.cuts_s, at, 0.7, self)) { ++false_cuts; fmt::print("no cut at {}\n", at);}
    int whistles = 0, false_whistles = 0;
    for (double at : truth.whistles_s) whistles += near(marks.whistles, at, 0.3, of_stretch);
    for (const Stretch& one : marks.whistles) if (!near(truth.whistles_s, one.first_s, 0.3, self)) { ++false_whistles; fmt::print("no whistle at {}\n", one.first_s);}
    int yes = 0, both = 0, said = 0, net = 0;
    for (const Looked& look : looks) {
        const bool is = game.net_in_picture(static_cast<int>(look.at_s * wanted.rate_hz + 0.5));
        bool says = false;
        for (const Stretch& one : marks.net_in_view) says |= one.has(look.at_s);
        net += is; said += says; both += is && says; yes += is == says;
    }
    int still = 0, false_still = 0;
    for (const Stretch& one : truth.still) { bool hit = false; for (const Stretch& two : marks.still) hit |= two.first_s < one.last_s && two.last_s > one.first_s; still += hit; }
    for (const Stretch& one : marks.still) { bool hit = false; for (const Stretch& two : truth.still) hit |= two.first_s < one.last_s && two.last_s > one.first_s; false_still += !hit; }
    fmt::print("seed {}: chances {} of {}, idle {} ({:.2f} a minute), cuts {} of {} +{}, whistles {} of {} +{}, net {} said {} both {}, still {} of {} +{}, loud {}\n", words[2], found, truth.chances_s.size(), idle,
               idle / (wanted.length_s / 60.0), cuts, truth.cuts_s.size(), false_cuts, whistles, truth.whistles_s.size(), false_whistles, net, said, both, still, truth.still.size(), false_still, marks.loud.size());
    if (std::getenv("DUMP"))
        for (const Looked& look : looks) fmt::print("L {:.2f} {:.2f} {:.2f} {:.0f} c{:.2f} a{:.2f} s{:.2f} m{:.2f} {}\n", look.at_s, look.likeness, look.likeness_of_four, look.shift_of_four_px, look.net, look.net_x, look.stir, look.still, game.net_in_picture(static_cast<int>(look.at_s * wanted.rate_hz + 0.5)));
}
