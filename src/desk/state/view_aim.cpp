#include "desk/state/view_aim.h"

#include <algorithm>

namespace ropeline {

namespace {

bool same_part(const FilmView& one, const FilmView& other) {
    const bool whole = one.zoom <= 1.0 && other.zoom <= 1.0;
    return whole || (one.zoom == other.zoom && one.centre.x_px == other.centre.x_px &&
                     one.centre.y_px == other.centre.y_px);
}

} // namespace

void aim_view(ViewAim& aim, FilmView& view, const PictureBox* play, const Id& moment_id, bool moves) {
    if (view.shown.width_px <= 0 || view.panel.width <= 0.0F) return;
    if (!same_part(view, aim.put)) {
        aim.by_hand = true;
        aim.share = 1.0;
    }
    if (play && moment_id != aim.moment_id) {
        aim.moment_id = moment_id;
        aim.whole_wanted = false;
        aim.close = false;
    }
    const bool close = play && !aim.whole_wanted;
    if (close != aim.close) {
        aim.close = close;
        aim.by_hand = false;
        aim.from = view;
        aim.share = moves ? 0.0 : 1.0;
    }
    if (!aim.by_hand) {
        FilmView to = view;
        to.zoom = 1.0;
        if (close) to = close_up(to, *play);
        view = aim.on_its_way() ? on_the_way(in_panel(aim.from, view.panel), to, aim.share) : to;
    }
    aim.put = view;
}

void turn_to_whole(ViewAim& aim, const FilmView& view) {
    aim.whole_wanted = view.zoom > 1.0;
    aim.close = !aim.whole_wanted ? false : aim.close;
    aim.by_hand = false;
    aim.from = view;
    aim.share = 1.0;
}

void pass_view_time(ViewAim& aim, double elapsed_s) {
    if (aim.on_its_way()) aim.share = std::min(1.0, aim.share + elapsed_s / move_in_s);
}

} // namespace ropeline
