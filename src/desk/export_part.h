// The page that makes reels, stills and handouts: what is typed and chosen on it, and the work under way.
#pragma once

#include "desk/exports.h"
#include "desk/voice_over.h"

#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace ropeline {

/// Shots that something can be made of.
struct ExportShots {
    std::string words; ///< "12 shots listed in Log"
    std::vector<Id> ids;
};

struct ExportPart {
    bool open = false; ///< the page
    std::vector<ExportShots> offered;
    std::size_t chosen = 0; ///< of them
    Id goalie_id;           ///< of the handout
    Id still_shot, still_moment;
    std::string reel_path, still_path, handout_path;
    bool half_speed = true, rink = false, beside = false, sound = true; ///< of the reel
    bool notes = true;                                                  ///< of reel and still
    bool handout_notes = false;                                         ///< they may name others
    std::unique_ptr<Export> work;
    std::optional<ExportWish> made_reel; ///< the last one: a voice can be laid over it
    std::unique_ptr<VoiceOver> voice;    ///< while one is recorded
    std::string said;                    ///< of the last one
    bool trouble = false;
};

} // namespace ropeline
