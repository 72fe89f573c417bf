// How fast films are looked through for their chances: chances_bench FILM ...
// Prints for each the film's length, how long it takes to look and to listen, and the share of the one in the other.
#include "chances/film_looker.h"
#include "chances/packed_marks.h"

#include <fmt/core.h>

#include <chrono>
#include <ctime>
#include <exception>

using namespace ropeline;

namespace {

double processor_s() {
    return static_cast<double>(std::clock()) / CLOCKS_PER_SEC;
}

void look_through(const char* path) {
    using Clock = std::chrono::steady_clock;
    const auto start = Clock::now();
    const double processor_before_s = processor_s();
    const auto passed_s = [&] { return std::chrono::duration<double>(Clock::now() - start).count(); };
    FilmLooker film(path, {}, -1e9);
    const double length_s = film.film_last_s() - film.film_first_s();
    film.listen_to(film.film_last_s());
    const double heard_s = passed_s();
    while (film.look()) {
    }
    const FilmMarks marks = marks_of(film.looks(), film.heard(), film.heard_from_s());
    fmt::print("{}: {:.0f} s of film in {:.1f} s ({:.3f} of it; {:.1f} s of the processor, {:.1f} s until "
               "all was heard), "
               "{} pictures decoded, {} looked at; {} cuts, {} whistles, {} likely chances, {} bytes\n",
               path, length_s, passed_s(), passed_s() / length_s, processor_s() - processor_before_s, heard_s,
               film.decoded(), film.looks().size(), marks.cuts_s.size(), marks.whistles.size(),
               marks.chances.size(), packed(marks).size());
}

} // namespace

int main(int count, char** words) {
    try {
        for (int i = 1; i < count; ++i)
            look_through(words[i]);
    } catch (const std::exception& error) {
        fmt::print(stderr, "{}\n", error.what());
        return 1;
    }
    return count > 1 ? 0 : 2;
}
