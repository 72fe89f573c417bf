// How often a fit proposes itself on frames of rendered films: a line a frame.
#include "camera/propose_fit.h"
#include "carry/films.h"
#include "carry/sighted.h"
#include "demo/filming.h"

#include <fmt/core.h>

#include <algorithm>
#include <cstdio>
#include <ctime>
using namespace ropeline;
int main(int count, char** words) {
    for (const RealFilm& film : real_films(1.0, 300)) {
        if (count > 1 &&
            std::none_of(words + 1, words + count, [&](const char* w) { return film.name == w; }))
            continue;
        const FilmedShot shot = shot_of(film);
        for (const int frame : {0, 110, 260}) {
            const demo::Canvas canvas = shot.picture(frame);
            const auto start = std::clock();
            const auto found = likeliest_fit(view_of(canvas), rule_book(demo::demo_rules));
            const double took = double(std::clock() - start) / CLOCKS_PER_SEC;
            if (!found) {
                fmt::print("{} {} nothing {:.1f} s\n", film.name, frame, took);
                continue;
            }
            fmt::print("{:<18} {:>3} {} error {:.3f} share {:.2f} z {:.1f} rival {:.1f} sigma {:.3f} rms "
                       "{:.2f} {:.1f} s\n",
                       film.name, frame, is_clear(*found) ? "CLEAR" : "     ",
                       error_in_view_m(found->fit, shot.camera(frame)), found->share, found->sigmas,
                       found->rival_sigmas, found->sigma_m, found->fit.rms_px, took);
            std::fflush(stdout);
        }
    }
}
