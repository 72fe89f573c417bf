// A drawing laid over pictures of a film: turned into the film's own colours once, then blended over each picture in less time
// than the picture takes to be copied.
#pragma once

#include "film/yuv.h"
#include "reel/drawing.h"

#include <vector>

namespace ropeline {

class Burnt {
public:
    /// In      an image surface, four bytes a pixel, of even size. Source: BT.709, video range.
    explicit Burnt(cairo_surface_t* drawing);
    /// Lays it over; both of one size.
    void onto(YuvPicture& picture) const;

private:
    struct Span { ///< of one row: pixels that are not see-through
        int row = 0, from = 0, to = 0;
    };
    struct Layer {                             ///< of one plane
        std::vector<std::uint8_t> value, left; ///< what is added; how much of the film is left, of 255
        std::vector<Span> spans;
        int width = 0;
    };
    void put_luma(const std::uint8_t* pixels, int stride, int width, int height);
    void put_chroma(const std::uint8_t* pixels, int stride, int width, int height);
    static void find_spans(Layer& layer, int height);
    Layer layers_[3];
};

} // namespace ropeline
