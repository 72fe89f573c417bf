// The pictures of a reel as they are composed: film, overlay, cards. Only for src/reel.
#pragma once

#include "film/film_reader.h"
#include "reel/burnt.h"
#include "reel/overlay.h"
#include "reel/reel.h"

#include <map>
#include <memory>
#include <optional>

namespace ropeline {

/// The films of a reel, each read through once for its times; of the readers only those on the screen stay open.
class ReelFilms {
public:
    /// `known` gains the films that it lacks.
    ReelFilms(const std::vector<ShownPlay>& plays, ReadThrough& known);
    const std::vector<const FrameTable*>& frames() const { return frames_; } ///< one a play
    const FilmFacts& facts(std::size_t play) const { return of_[play]->facts; }
    FilmReader& reader(std::size_t play);
    void let_go_but(const std::vector<PlayOnScreen>& shown);

private:
    struct Film {
        std::string path;
        FilmFacts facts;
        FrameTable frames;
        std::unique_ptr<FilmReader> reader;
    };
    ReadThrough& known_;
    std::map<std::string, Film> films_;
    std::vector<Film*> of_;
    std::vector<const FrameTable*> frames_;
};

class ReelPictures {
public:
    ReelPictures(const std::vector<ShownPlay>& plays, ReelFilms& films, const ReelOptions& options,
                 int width_px, int height_px);
    const YuvPicture& compose(const ReelPiece& piece, const ReelPicture& picture);

private:
    YuvPlace room(const ReelPiece& piece, std::size_t which) const;
    Burnt drawn_card(const ReelPiece& piece) const;
    Burnt drawn_moments(const ReelPiece& piece) const;
    std::optional<Burnt> drawn_rink(const ReelPiece& piece, const ReelPicture& picture) const;

    const std::vector<ShownPlay>& plays_;
    ReelFilms& films_;
    const ReelOptions& options_;
    YuvPicture picture_;
    std::optional<std::size_t> margins_of_; ///< the piece whose margins are black
};

} // namespace ropeline
