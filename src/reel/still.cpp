#include "reel/still.h"

#include "film/film_reader.h"
#include "film/rgb.h"
#include "reel/overlay.h"
#include "sheet/text.h"

#include <fmt/core.h>

#include <cairo-svg.h>

#include <algorithm>
#include <cmath>

namespace ropeline {
namespace {

struct FilmStill {
    RgbPicture rgb;
    ImageSize film; ///< as the film is shown, whose pixels fit and marks are in
};

FilmStill film_still(const ShownPlay& play, const ShownMoment& shown, int width_px) {
    FilmOptions options{.cache_bytes = std::size_t{32} << 20};
    if (play.known) options.kept_index = play.known->index; // goes there instead of reading the film through
    FilmReader reader(play.film_path.string(), options);
    const FilmFacts& facts = reader.facts();
    const ImageSize film{facts.shown_width_px, facts.shown_height_px};
    const int wide = width_px > 0 ? width_px : film.width_px;
    const int high = static_cast<int>(std::lround(1.0 * film.height_px * wide / std::max(1, film.width_px)));
    const PicturePtr picture = reader.picture(reader.frames().clamp(shown.moment.frame));
    return {rgb_of(*picture, facts, wide, std::max(1, high)), film};
}

Surface surface_of(const RgbPicture& rgb) {
    Surface surface = make_surface(rgb.width_px, rgb.height_px);
    cairo_surface_flush(surface.get());
    std::uint8_t* const to = cairo_image_surface_get_data(surface.get());
    const int stride = cairo_image_surface_get_stride(surface.get());
    const std::uint8_t* from = rgb.bytes.data();
    for (int row = 0; row < rgb.height_px; ++row) {
        for (int x = 0; x < rgb.width_px; ++x, from += 3) {
            const std::uint32_t word = 0xFF000000U | static_cast<std::uint32_t>(from[0]) << 16U |
                                       static_cast<std::uint32_t>(from[1]) << 8U |
                                       static_cast<std::uint32_t>(from[2]);
            std::copy_n(reinterpret_cast<const std::uint8_t*>(&word), 4,
                        to + static_cast<std::ptrdiff_t>(row) * stride + 4 * static_cast<std::ptrdiff_t>(x));
        }
    }
    cairo_surface_mark_dirty(surface.get());
    return surface;
}

void draw_over(cairo_t* pen, const FilmStill& still, const ShownPlay& play, const ShownMoment& shown,
               const StillOptions& options) {
    const int wide = still.rgb.width_px, high = still.rgb.height_px;
    draw_moment(pen, on_canvas({0, 0, wide, high}, still.film, high), {0.0, 0.0, 1.0 * wide, 1.0 * high},
                play, shown, {.lines = options.overlay, .words = options.words, .note = options.note});
}

cairo_status_t append(void* to, const unsigned char* bytes, unsigned int length) {
    static_cast<std::string*>(to)->append(reinterpret_cast<const char*>(bytes), length);
    return CAIRO_STATUS_SUCCESS;
}

/// What it shows, for who cannot see it, into the root element.
void put_title(std::string& svg, const ShownPlay& play, const ShownMoment& shown) {
    const std::size_t root = svg.find("<svg"), end = root == std::string::npos ? root : svg.find('>', root);
    if (end == std::string::npos) return;
    svg.insert(end + 1,
               fmt::format("\n<title>{} · {}</title>\n<desc>{} {}</desc>", markup(name_of(play)),
                           name_of(shown.moment.kind), markup(shown.headline), markup(shown.advice)));
}

std::string svg_of(const FilmStill& still, const ShownPlay& play, const ShownMoment& shown,
                   const StillOptions& options) {
    std::string svg;
    const Surface film = surface_of(still.rgb);
    {
        const Surface page{
            cairo_svg_surface_create_for_stream(append, &svg, still.rgb.width_px, still.rgb.height_px)};
        cairo_svg_surface_set_document_unit(page.get(), CAIRO_SVG_UNIT_PX);
        const Pen pen = make_pen(page.get());
        cairo_set_source_surface(pen.get(), film.get(), 0.0, 0.0);
        cairo_paint(pen.get());
        draw_over(pen.get(), still, play, shown, options);
        cairo_surface_finish(page.get());
    }
    put_title(svg, play, shown);
    return svg;
}

} // namespace

std::string still_of(const ShownPlay& play, const ShownMoment& shown, StillKind kind,
                     const StillOptions& options) {
    const FilmStill still = film_still(play, shown, options.width_px);
    if (kind == StillKind::svg) return svg_of(still, play, shown, options);
    const Surface surface = surface_of(still.rgb);
    draw_over(make_pen(surface.get()).get(), still, play, shown, options);
    std::string png;
    if (cairo_surface_write_to_png_stream(surface.get(), append, &png) != CAIRO_STATUS_SUCCESS)
        throw std::bad_alloc{};
    return png;
}

} // namespace ropeline
