// What a reel shows when: pieces in order, and from them its pictures one by one with their exact times. Pure; times are ticks of
// 1/90000 s.
#pragma once

#include "film/frame_table.h"
#include "film/movie_writer.h"
#include "reel/shown_play.h"

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace ropeline {

struct ReelTiming {
    double run_up_s = 2.0; ///< before the first moment
    double freeze_s = 3.5; ///< at each moment
    double after_s = 2.0;  ///< after the last
    double speed_on = 1.0; ///< of the film after the first freeze: 1, or 0.5 for half
    double card_s = 2.5;   ///< a title card; 0: none
    enum class Stops {
        every, ///< of the play's moments
        main,  ///< the moment the play is about
        none,
    } stops = Stops::every;
};

enum class PieceKind { card, run, freeze };

/// A play on the screen: which of the reel's, and which stretch of its film. A freeze has one frame.
struct PlayOnScreen {
    std::size_t play = 0;
    FrameIndex first{}, last{};
    std::optional<std::size_t> moment; ///< of a freeze: which of the play's
};

struct ReelPiece {
    PieceKind kind{};
    std::int64_t begins = 0, length = 0;
    std::vector<PlayOnScreen> shown; ///< one, or two beside each other; none on the reel's own card
    double speed = 1.0;
    std::int64_t picture_ticks = 0; ///< of a card or freeze: how long each of its pictures lasts
    std::string heading, below;     ///< of a card
};

/// One picture. Where two in a row are `same`, the second is the first again.
struct ReelPicture {
    std::int64_t at = 0, length = 0;
    std::size_t piece = 0;
    std::vector<FrameIndex> frames; ///< one a play of the piece
    bool same = false;
};

/// Ticks of a frame from the film's first: whole ticks, so that nothing drifts.
std::int64_t ticks_of(const FrameTable& frames, FrameIndex frame);
/// The usual length of a frame, the median; 3000 (30 a second) for a film of one frame.
std::int64_t usual_ticks(const FrameTable& frames);

/// The pieces of one play, or of two beside each other (run up together to the moment each is about), from `begins` on.
/// In      `of`: one or two; `frames`: of each one's film.
std::vector<ReelPiece> pieces_of(std::span<const std::size_t> of, const std::vector<ShownPlay>& plays,
                                 const std::vector<const FrameTable*>& frames, const ReelTiming& timing,
                                 std::int64_t begins);

/// The pictures of a piece.
std::vector<ReelPicture> pictures_of(std::size_t index, const ReelPiece& piece,
                                     const std::vector<ShownPlay>& plays,
                                     const std::vector<const FrameTable*>& frames);

} // namespace ropeline
