#include "desk/state/guide.h"

#include "desk/made_book.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <functional>

using namespace ropeline;
using namespace ropeline::test;

namespace {

int done(const Guide& guide, const LogBook& book) {
    const auto steps = guide_steps(guide, book.state(), book.file().answers().size());
    const auto first_open = std::ranges::find(steps, false, &GuideStep::done);
    CHECK(std::ranges::none_of(first_open, steps.end(), std::identity{},
                               &GuideStep::done)); // one after the other
    return static_cast<int>(first_open - steps.begin());
}

} // namespace

TEST_CASE("each step of the first ten minutes is done by doing it, and not before") {
    const Folder folder;
    LogBook book = begun(folder.path / "a.season");
    Guide guide = begin_guide(book.state(), 0);
    CHECK(done(guide, book) == 0);
    for (const int frame : {0, 40, 80, 99}) // running and leaping is no stepping
        guide = stepped_to(guide, frame);
    CHECK(done(guide, book) == 0);
    for (const int frame : {98, 99, 100, 101, 100})
        guide = stepped_to(guide, frame);
    CHECK(done(guide, book) == 1);

    fit(book, 100);
    CHECK(done(guide, book) == 2);

    book.apply(NewShot{}, at(100));
    book.apply(FilmClick{seen({0.5, 1.5})}, at(100));
    book.apply(FilmClick{seen({0.9, 1.2})}, at(100));
    CHECK(done(guide, book) == 2);
    book.apply(FilmClick{seen({5.0, 9.0})}, at(100));
    CHECK(done(guide, book) == 3);

    for (const int number : {2, 1, 1, 1})
        book.apply(Choose{number}, at(100));
    CHECK(done(guide, book) == 3);
    book.apply(Choose{3}, at(100));
    book.apply(TakeShot{}, at(100));
    CHECK(done(guide, book) == 4);

    Answer answer;
    answer.moment_id = book.state().shots[0].moments[0].id;
    answer.goalie_id = book.state().goalie_id;
    answer.answered_at = "2026-11-26T10:00:00Z";
    answer.read = Read::shot;
    answer.ice = IcePoint{0.0, 1.5};
    book.apply(KeepAnswer{answer}, {});
    CHECK(done(guide, book) == guide_length);

    // Begun again on the same season, it asks for another shot.
    CHECK(guide_steps(begin_guide(book.state(), 1), book.state(), 1)[2].done == false);
}
