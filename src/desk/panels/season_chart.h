// A chart of the Season side that can be pointed at.
#pragma once

#include "desk/panels/pieces.h"
#include "desk/season_part.h"
#include "desk/state/log_state.h"

namespace ropeline {

/// Where the drawing of a chart lies on the screen.
struct ChartPlace {
    ImVec2 at;
    float width = 0.0F;
    ScenePoint to_scene(ImVec2 p) const { return {(p.x - at.x) / width, (p.y - at.y) / width}; }
    ImVec2 to_screen(ScenePoint p) const {
        return {at.x + width * static_cast<float>(p.x), at.y + width * static_cast<float>(p.y)};
    }
};

/// The charts under their titles, in columns as wide as their figures need to be read, each put where there is room
/// first, the wide one under them. What lies outside the panel is measured and not painted. A mark tells its shot and opens it, a drag over the plan
/// asks for the shots from there.
void draw_charts(const Panel& panel, const LogState& log, const SeasonPart& part,
                 const std::vector<NamedChart>& charts, float room);
/// Those that have small figures and are drawn over the columns.
void draw_wide_charts(const Panel& panel, const LogState& log, const SeasonPart& part,
                      const std::vector<NamedChart>& charts, float room);
/// Of two sides: each chart beside its like, without the wide ones.
void draw_charts_in_pairs(const Panel& panel, const LogState& log, const SeasonPart& part,
                          const std::vector<NamedChart>& left, const std::vector<NamedChart>& right,
                          float half, float gap);

} // namespace ropeline
