#include "reel/burnt.h"

#include <algorithm>
#include <cmath>

namespace ropeline {
namespace {

/// A pixel of the drawing: colours multiplied by alpha, 0..255. Cairo keeps them in a word, so the bytes go by the machine.
struct Pixel {
    int blue = 0, green = 0, red = 0, alpha = 0;
};
Pixel pixel_at(const std::uint8_t* row, int x) {
    std::uint32_t word = 0;
    std::copy_n(row + 4 * x, 4, reinterpret_cast<std::uint8_t*>(&word));
    return {static_cast<int>(word & 255U), static_cast<int>(word >> 8U & 255U),
            static_cast<int>(word >> 16U & 255U), static_cast<int>(word >> 24U)};
}

std::uint8_t byte(double value) {
    return static_cast<std::uint8_t>(std::clamp(std::lround(value), 0L, 255L));
}

constexpr double luma_red = 0.2126, luma_green = 0.7152, luma_blue = 0.0722; // ITU-R BT.709
double luma_of(const Pixel& p) {
    return luma_red * p.red + luma_green * p.green + luma_blue * p.blue;
}

} // namespace

void Burnt::find_spans(Layer& layer, int height) {
    for (int row = 0; row < height; ++row) {
        const auto begin = layer.left.begin() + static_cast<std::ptrdiff_t>(row) * layer.width;
        for (int x = 0; x < layer.width;) {
            if (begin[x] == 255) {
                ++x;
                continue;
            }
            const int from = x;
            while (x < layer.width && begin[x] != 255)
                ++x;
            layer.spans.push_back({row, from, x});
        }
    }
}

void Burnt::put_luma(const std::uint8_t* pixels, int stride, int width, int height) {
    Layer& layer = layers_[0];
    layer.width = width;
    layer.value.resize(static_cast<std::size_t>(width) * static_cast<std::size_t>(height));
    layer.left.resize(layer.value.size());
    std::size_t at = 0;
    for (int row = 0; row < height; ++row) {
        for (int x = 0; x < width; ++x, ++at) {
            const Pixel p = pixel_at(pixels + static_cast<std::ptrdiff_t>(row) * stride, x);
            layer.left[at] = static_cast<std::uint8_t>(255 - p.alpha);
            layer.value[at] = byte(16.0 * p.alpha / 255.0 + luma_of(p) * 219.0 / 255.0);
        }
    }
    find_spans(layer, height);
}

void Burnt::put_chroma(const std::uint8_t* pixels, int stride, int width, int height) {
    for (int plane = 1; plane < 3; ++plane) {
        layers_[plane].width = width / 2;
        layers_[plane].value.resize(static_cast<std::size_t>(width / 2) *
                                    static_cast<std::size_t>(height / 2));
        layers_[plane].left.resize(layers_[plane].value.size());
    }
    std::size_t at = 0;
    for (int row = 0; row < height / 2; ++row) {
        const std::uint8_t* const above = pixels + static_cast<std::ptrdiff_t>(2 * row) * stride;
        for (int x = 0; x < width / 2; ++x, ++at) {
            Pixel sum;
            for (const Pixel& p : {pixel_at(above, 2 * x), pixel_at(above, 2 * x + 1),
                                   pixel_at(above + stride, 2 * x), pixel_at(above + stride, 2 * x + 1)})
                sum = {sum.blue + p.blue, sum.green + p.green, sum.red + p.red, sum.alpha + p.alpha};
            const double alpha = 0.25 * sum.alpha, luma = 0.25 * luma_of(sum);
            layers_[1].left[at] = layers_[2].left[at] = byte(255.0 - alpha);
            const double grey = 128.0 * alpha / 255.0;
            layers_[1].value[at] =
                byte(grey + (0.25 * sum.blue - luma) / (2.0 * (1.0 - luma_blue)) * 224.0 / 255.0);
            layers_[2].value[at] =
                byte(grey + (0.25 * sum.red - luma) / (2.0 * (1.0 - luma_red)) * 224.0 / 255.0);
        }
    }
    for (int plane = 1; plane < 3; ++plane)
        find_spans(layers_[plane], height / 2);
}

Burnt::Burnt(cairo_surface_t* drawing) {
    cairo_surface_flush(drawing);
    const std::uint8_t* const pixels = cairo_image_surface_get_data(drawing);
    const int stride = cairo_image_surface_get_stride(drawing),
              width = cairo_image_surface_get_width(drawing),
              height = cairo_image_surface_get_height(drawing);
    put_luma(pixels, stride, width, height);
    put_chroma(pixels, stride, width, height);
}

void Burnt::onto(YuvPicture& picture) const {
    for (int plane = 0; plane < 3; ++plane) {
        const Layer& layer = layers_[plane];
        for (const Span& span : layer.spans) {
            std::uint8_t* const row =
                picture.plane(plane) + static_cast<std::ptrdiff_t>(span.row) * picture.stride(plane);
            const auto first = static_cast<std::size_t>(span.row) * static_cast<std::size_t>(layer.width);
            for (int x = span.from; x < span.to; ++x) {
                const std::size_t at = first + static_cast<std::size_t>(x);
                const int sum = layer.value[at] + (row[x] * layer.left[at] + 127) / 255;
                row[x] = static_cast<std::uint8_t>(std::min(255, sum));
            }
        }
    }
}

} // namespace ropeline
