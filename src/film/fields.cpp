#include "film/fields.h"

namespace ropeline {

PicturePtr field_of(const PicturePtr& frame, Field field) {
    const int first_row = field == Field::top ? 0 : 1;
    const auto rows = [&](int height) { return (height + 1 - first_row) / 2; };
    std::vector<Picture::Plane> planes(frame->planes().begin(), frame->planes().end());
    for (Picture::Plane& plane : planes) {
        plane.bytes += static_cast<std::ptrdiff_t>(first_row) * plane.stride_bytes;
        plane.stride_bytes *= 2;
        plane.height = rows(plane.height);
    }
    return std::make_shared<const Picture>(frame, frame->layout(), std::move(planes), frame->bits(),
                                           frame->width_px(), rows(frame->height_px()), frame->bytes(),
                                           frame->pts());
}

} // namespace ropeline
