// A film picture on the graphics card: planes go up as they are, a shader turns them into RGB with the right
// matrix and range, upright and with square pixels. Where Mesa draws on the processor, an upright picture is
// converted by libswscale instead: 2 ms for 1280x720, where the shader took 11.
#pragma once

#include "film/film_facts.h"
#include "film/picture.h"

#include <cstdint>
#include <vector>

namespace ropeline {

class FilmTexture {
public:
    FilmTexture() = default;
    ~FilmTexture() { release(); }
    FilmTexture(const FilmTexture&) = delete;
    FilmTexture& operator=(const FilmTexture&) = delete;

    /// Needs the OpenGL context of the window. Throws std::runtime_error when the shader does not build.
    void put(const Picture& picture, const FilmFacts& facts);
    /// Gives everything back to the driver; needs the context it was made in.
    void release();
    void clear() { filled_ = false; }
    bool filled() const { return filled_; }
    unsigned id() const { return target_; } ///< RGB texture, first row at the top
    int width_px() const { return width_; }
    int height_px() const { return height_; }

private:
    void build();
    void reserve(int width, int height);
    void upload_planes(const Picture& picture);
    void draw_planes(const Picture& picture, const FilmFacts& facts); ///< through the shader, into the target

    unsigned planes_[3] = {0, 0, 0};
    unsigned target_ = 0, frame_ = 0, program_ = 0, corners_ = 0;
    Picture::Layout program_layout_{};
    int width_ = 0, height_ = 0;
    bool filled_ = false;
    bool no_card_ = false; ///< Mesa draws on the processor
    std::vector<std::uint8_t> rgba_;
};

} // namespace ropeline
