// What a small picture of a film says, and what has changed since the one before. Pure.
#pragma once

#include "camera/picture_view.h"

#include <optional>
#include <vector>

namespace ropeline {

constexpr int look_width_px =
    384; ///< of the small pictures: from a tripod far off a crease is 15 pixels wide and 4 high

/// Luma in 0 to 255 and colour differences as in BT.709 about 0, a value a pixel.
struct SmallPicture {
    int width_px = 0, height_px = 0;
    std::vector<float> luma, blue, red;
};
SmallPicture small_picture_of(const PictureView& rgb);

/// A net is told by its crease: a patch of light blue on the ice with a red frame at it.
struct CreaseSeen {
    double score = 0.0;                     ///< 0 to 1
    double x_px = 0.0, y_px = 0.0;          ///< the middle of the crease
    double width_px = 0.0, height_px = 0.0; ///< of the crease
};
/// The best one; nothing where there is none.
std::optional<CreaseSeen> find_net(const SmallPicture& picture);

/// How one picture becomes the next: both moved by the camera and changed.
struct PictureChange {
    double likeness = 1.0; ///< correlation of what overlaps after the best shift, -1 to 1
    double dx_px = 0.0, dy_px = 0.0;
};
constexpr int coarse_cell_px = 6;
/// The picture a sixth as large, the mean of each place's surroundings taken off: what pictures are compared by.
struct CoarsePicture {
    int width = 0, height = 0;
    std::vector<float> luma;
};
CoarsePicture coarse_of(const SmallPicture& picture);
PictureChange change_between(const CoarsePicture& before, const CoarsePicture& now);

/// Mean change of luma, 0 to 255, the camera's move left in.
double change_of_all(const SmallPicture& before, const SmallPicture& now);
/// Mean change of luma, 0 to 255, in a window of the new picture, the camera's move taken out.
double stir_in(const SmallPicture& before, const SmallPicture& now, const PictureChange& change, double x_px,
               double y_px, double half_width_px, double half_height_px);

} // namespace ropeline
