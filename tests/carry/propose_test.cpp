// A whole fit from one picture's paint, with nothing known but the rule book.
#include "camera/propose_fit.h"
#include "carry/films.h"
#include "carry/sighted.h"
#include "demo/filming.h"

#include <doctest/doctest.h>

#include <cstdlib>

using namespace ropeline;

namespace {

const bool all_of_it = std::getenv("ROPELINE_LONG_TESTS") != nullptr;
const RuleBook& rules = rule_book(demo::demo_rules);

} // namespace

TEST_CASE("a fit proposes itself in most films on one of three frames, and is wrong in none") {
#if defined(__SANITIZE_ADDRESS__) || defined(__SANITIZE_THREAD__)
    if (!all_of_it) return; // a minute a frame there
#endif
    int films = 0, right = 0;
    for (const RealFilm& film : real_films(all_of_it ? 1.0 : 0.5, 300)) {
        if (!all_of_it && film.name != "calm") continue;
        CAPTURE(film.name);
        const FilmedShot shot = shot_of(film);
        bool proposed = false;
        for (const int frame : {110, 0, 260}) {
            CAPTURE(frame);
            const demo::Canvas picture = shot.picture(frame);
            const auto found = propose_fit(view_of(picture), rules);
            if (!found) continue;
            CHECK(error_in_view_m(found->fit, shot.camera(frame)) < 0.25);
            proposed = true;
            break;
        }
        ++films;
        right += proposed ? 1 : 0;
    }
    MESSAGE(right << " of " << films << " films");
    CHECK(right >= 0.7 * films);
}

TEST_CASE("no fit is proposed of white ice, nor after it was asked to stop") {
    std::vector<std::uint8_t> white(std::size_t{640} * 360 * 3, 218);
    CHECK_FALSE(propose_fit({white.data(), 640, 360, 3 * 640}, rules));
    const FilmedShot shot = shot_of(film_named(real_films(0.5, 300), "calm"));
    const demo::Canvas picture = shot.picture(110);
    std::stop_source stop;
    stop.request_stop();
    CHECK_FALSE(propose_fit(view_of(picture), rules, stop.get_token()));
}
