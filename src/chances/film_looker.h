// Looks at and listens to a film from one place on. Blocking; one thread at a time.
#pragma once

#include "chances/find_marks.h"
#include "film/film_skim.h"

#include <cstdint>
#include <memory>
#include <stop_token>
#include <string>
#include <vector>

namespace ropeline {

class FilmLooker {
public:
    /// Throws  FilmError with one line a coach can act on.
    FilmLooker(const std::string& path, std::vector<std::byte> kept_index, double from_s);
    ~FilmLooker();
    FilmLooker(const FilmLooker&) = delete;
    FilmLooker& operator=(const FilmLooker&) = delete;

    double film_first_s() const;
    double film_last_s() const;
    /// One more look. False at the film's end.
    bool look();
    /// Listens up to here.
    void listen_to(double until_s, const std::stop_token& stop = {});
    const std::vector<Looked>& looks() const;
    const std::vector<Heard>& heard() const; ///< empty for a silent film
    double heard_from_s() const;
    std::int64_t decoded() const;

private:
    struct Insides;
    std::unique_ptr<Insides> insides_;
};

} // namespace ropeline
