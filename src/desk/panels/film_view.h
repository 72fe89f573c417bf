// The film view: the picture with what lies over it, the loupe, the words on it.
#pragma once

#include "desk/film_stage.h"
#include "desk/log_part.h"
#include "desk/pages.h"
#include "desk/panels/pieces.h"

namespace ropeline {

enum class PictureUse {
    marking,       ///< clicks take hold of marks and place them
    looking,       ///< with what is marked drawn over it
    answer_hidden, ///< the picture alone
};
void draw_film_view(const Panel& panel, FilmStage& stage, LogPart& part, ClockEntry& clock, PictureUse use);

} // namespace ropeline
