#include "reel/reel_pictures.h"

#include "season/derive.h"

#include <algorithm>

namespace ropeline {
namespace {

Box box_of(const YuvPlace& place) {
    return {1.0 * place.x_px, 1.0 * place.y_px, 1.0 * place.width_px, 1.0 * place.height_px};
}

ImageSize shown_size(const FilmFacts& facts) {
    return {facts.shown_width_px, facts.shown_height_px};
}

constexpr std::size_t small_cache = std::size_t{48} << 20; // frames are passed once

} // namespace

ReelFilms::ReelFilms(const std::vector<ShownPlay>& plays, ReadThrough& known) : known_(known) {
    for (const ShownPlay& play : plays) {
        const std::string path = play.film_path.string();
        auto found = films_.find(path);
        if (found == films_.end()) {
            auto& index = known[path];
            if (index.empty() && play.known) index = play.known->index;
            FilmReader reader(path, {.cache_bytes = small_cache, .kept_index = index});
            known[path] = reader.index_to_keep();
            Film film{path, reader.facts(), reader.frames(), nullptr};
            found = films_.emplace(path, std::move(film)).first;
        }
        of_.push_back(&found->second);
        frames_.push_back(&found->second.frames);
    }
}

FilmReader& ReelFilms::reader(std::size_t play) {
    Film& film = *of_[play];
    if (!film.reader)
        film.reader = std::make_unique<FilmReader>(
            film.path, FilmOptions{.cache_bytes = small_cache, .kept_index = known_[film.path]});
    return *film.reader;
}

void ReelFilms::let_go_but(const std::vector<PlayOnScreen>& shown) {
    for (auto& [path, film] : films_) {
        const bool wanted = std::ranges::any_of(
            shown, [&, now = &film](const PlayOnScreen& one) { return of_[one.play] == now; });
        if (!wanted) film.reader.reset();
    }
}

ReelPictures::ReelPictures(const std::vector<ShownPlay>& plays, ReelFilms& films, const ReelOptions& options,
                           int width_px, int height_px)
    : plays_(plays), films_(films), options_(options), picture_(width_px, height_px) {}

YuvPlace ReelPictures::room(const ReelPiece& piece, std::size_t which) const {
    const int count = std::max(1, static_cast<int>(piece.shown.size()));
    const int gap = count > 1 ? picture_.width_px() / 320 * 2 : 0; // black between two pictures
    const int wide = (picture_.width_px() - gap) / count / 2 * 2;
    return {(wide + gap) * static_cast<int>(which), 0, wide, picture_.height_px()};
}

Burnt ReelPictures::drawn_card(const ReelPiece& piece) const {
    const Surface surface = make_surface(picture_.width_px(), picture_.height_px());
    const Pen pen = make_pen(surface.get());
    draw_card(pen.get(), {0.0, 0.0, 1.0 * picture_.width_px(), 1.0 * picture_.height_px()}, piece.heading,
              piece.below);
    return Burnt(surface.get());
}

Burnt ReelPictures::drawn_moments(const ReelPiece& piece) const {
    const Surface surface = make_surface(picture_.width_px(), picture_.height_px());
    const Pen pen = make_pen(surface.get());
    for (std::size_t which = 0; which < piece.shown.size(); ++which) {
        const PlayOnScreen& shown = piece.shown[which];
        if (!shown.moment) continue;
        const ShownPlay& play = plays_[shown.play];
        const ShownMoment& moment = play.moments[*shown.moment];
        const FilmFacts& facts = films_.facts(shown.play);
        const YuvPlace here = room(piece, which), place = fitted_place(facts, here);
        draw_moment(pen.get(), on_canvas(place, shown_size(facts), options_.larger * place.height_px),
                    box_of(here), play, moment, {.words = options_.words, .note = options_.note});
    }
    return Burnt(surface.get());
}

std::optional<Burnt> ReelPictures::drawn_rink(const ReelPiece& piece, const ReelPicture& picture) const {
    std::optional<Surface> surface;
    for (std::size_t which = 0; which < piece.shown.size(); ++which) {
        const PlayOnScreen& shown = piece.shown[which];
        const ShownPlay& play = plays_[shown.play];
        if (!play.known) continue;
        const FitHere here = fit_here(play.known->fits, play.known->carries, number(picture.frames[which]));
        if (!here.fit) continue;
        if (!surface) surface = make_surface(picture_.width_px(), picture_.height_px());
        const Pen pen = make_pen(surface->get());
        const FilmFacts& facts = films_.facts(shown.play);
        const YuvPlace place = fitted_place(facts, room(piece, which));
        draw_rink(pen.get(), on_canvas(place, shown_size(facts), options_.larger * place.height_px),
                  *here.fit, here.key->rules);
    }
    if (!surface) return std::nullopt;
    return Burnt(surface->get());
}

const YuvPicture& ReelPictures::compose(const ReelPiece& piece, const ReelPicture& picture) {
    if (picture.same) return picture_;
    if (margins_of_ != picture.piece) {
        put_black({0, 0, picture_.width_px(), picture_.height_px()}, picture_);
        margins_of_ = picture.piece;
    }
    if (piece.kind == PieceKind::card) {
        drawn_card(piece).onto(picture_);
        return picture_;
    }
    for (std::size_t which = 0; which < piece.shown.size(); ++which) {
        const std::size_t play = piece.shown[which].play;
        const PicturePtr film = films_.reader(play).picture(picture.frames[which]);
        put_picture(*film, films_.facts(play), fitted_place(films_.facts(play), room(piece, which)),
                    picture_);
    }
    if (options_.draw && piece.kind == PieceKind::freeze) {
        drawn_moments(piece).onto(picture_);
    } else if (options_.rink_while_running) {
        if (const auto rink = drawn_rink(piece, picture)) rink->onto(picture_);
    }
    return picture_;
}

} // namespace ropeline
