// A fit that proposes itself: offered, drawn, and taken only when asked for.
#include "desk/made_book.h"
#include "film/clips.h"
#include "film/film_reader.h"
#include "follow/fit_proposer.h"

#include <doctest/doctest.h>

#include <chrono>
#include <cmath>
#include <thread>

using namespace ropeline;
using namespace ropeline::test;

namespace {

/// What the paint would say: the camera that is.
RinkFit said_by_paint() {
    std::vector<LandmarkClick> clicks;
    for (const char* name : {"left_post", "right_post", "left_spot", "right_spot", "crease_top"}) {
        const Landmark mark = find_landmark(rule_book(RuleBookId::nhl), name).value();
        clicks.push_back({seen(mark.at), mark.at, mark.label});
    }
    return fit_rink(clicks, {1280, 720});
}

const FitDraft& draft(const LogBook& book) {
    REQUIRE(book.state().selection.fit());
    return *book.state().selection.fit();
}

} // namespace

TEST_CASE("a proposed fit changes nothing until it is taken; then its landmarks lie where it has them") {
    const Folder folder;
    LogBook book = begun(folder.path / "a.season");
    book.apply(BeginFit{}, at(90));
    book.apply(OfferFit{90, said_by_paint()}, at(90));
    CHECK_FALSE(draft(book).fit);
    CHECK(draft(book).clicks.empty());
    CHECK(draft(book).proposed);

    book.apply(TakeProposal{}, at(90));
    REQUIRE(draft(book).fit);
    CHECK_FALSE(draft(book).proposed);
    CHECK(draft(book).clicks.size() >= 6);
    for (const StoredLandmark& click : draft(book).clicks) {
        const ImagePoint truth = seen(click.point.value());
        CHECK(std::hypot(click.at.x_px - truth.x_px, click.at.y_px - truth.y_px) < 1e-6);
    }
    const std::string words =
        words_of(quality_of(*draft(book).fit, draft(book).rests_on), LengthUnit::metres);
    CHECK(words.starts_with("from the paint, a depth to ± ")); // nobody clicked: no clicks agree
    CHECK_FALSE(residual_of(draft(book), 0).has_value());
    book.apply(Undo{}, at(90));
    CHECK(draft(book).clicks.empty());
    CHECK(draft(book).proposed);
    book.apply(Redo{}, at(90));
    book.apply(KeepFit{}, at(90));
    REQUIRE(book.state().fits.size() == 1);
    const auto post = image_at(book.state().fits[0].fit, {0.9144, 0.0});
    REQUIRE(post);
    CHECK(std::hypot(post->x_px - seen({0.9144, 0.0}).x_px, post->y_px - seen({0.9144, 0.0}).y_px) < 1e-6);
}

TEST_CASE("a fit proposed for another frame is not offered, and none there is said so") {
    const Folder folder;
    LogBook book = begun(folder.path / "b.season");
    book.apply(TakeProposal{}, at(90));
    CHECK(book.state().notice.trouble);
    book.apply(OfferFit{90, said_by_paint()}, at(90)); // the fit was left meanwhile
    CHECK_FALSE(book.state().selection.fit());
    book.apply(BeginFit{}, at(120));
    book.apply(OfferFit{90, said_by_paint()}, at(120));
    CHECK_FALSE(draft(book).proposed);
    book.apply(TakeProposal{}, at(120));
    CHECK_FALSE(draft(book).fit);
    CHECK(book.state().notice.text.find("No fit is proposed") != std::string::npos);
}

TEST_CASE("the first click begins a fit of the coach's own; the proposal stays to be taken") {
    const Folder folder;
    LogBook book = begun(folder.path / "c.season");
    book.apply(BeginFit{}, at(90));
    book.apply(OfferFit{90, said_by_paint()}, at(90));
    book.apply(FilmClick{seen({0.9144, 0.0})}, at(90));
    CHECK(draft(book).clicks.size() == 1);
    CHECK(draft(book).proposed);
}

TEST_CASE("of a picture without a rink no fit is proposed, and one that is no longer wanted stops") {
    const clips::Folder folder;
    clips::ffmpeg("-f lavfi -i color=white:size=320x180:rate=30:duration=0.2 -c:v libx264 -pix_fmt yuv420p " +
                  clips::quoted(folder.file("white.mp4")));
    FilmReader film(folder.file("white.mp4"));
    FitProposer proposer(film.picture(FrameIndex{0}), film.facts(), RuleBookId::nhl);
    while (!proposer.finished())
        std::this_thread::sleep_for(std::chrono::milliseconds(2));
    CHECK_FALSE(proposer.take());

    clips::ffmpeg("-f lavfi -i testsrc=size=320x180:rate=30:duration=0.2 -c:v libx264 -pix_fmt yuv420p " +
                  clips::quoted(folder.file("pattern.mp4")));
    FilmReader other(folder.file("pattern.mp4"));
    FitProposer unwanted(other.picture(FrameIndex{0}), other.facts(), RuleBookId::nhl);
    unwanted.stop();
    while (!unwanted.finished())
        std::this_thread::sleep_for(std::chrono::milliseconds(2));
    CHECK_FALSE(unwanted.take());
}
