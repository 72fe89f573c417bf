#include "desk/film_texture.h"

#define GL_GLEXT_PROTOTYPES
#include <SDL_opengl.h>
#include <SDL_opengl_glext.h>

#include <array>
#include <stdexcept>
#include <string>

namespace ropeline {

namespace {

constexpr const char* vertex_source = R"(#version 330 core
uniform int quarter_turns; // clockwise, to show the picture upright
out vec2 at;
void main() {
    vec2 corner = vec2(gl_VertexID & 1, gl_VertexID >> 1);
    vec2 p = corner; // (0, 0) is the top-left corner of the shown picture
    if (quarter_turns == 1) p = vec2(corner.y, 1.0 - corner.x);
    if (quarter_turns == 2) p = vec2(1.0 - corner.x, 1.0 - corner.y);
    if (quarter_turns == 3) p = vec2(1.0 - corner.y, corner.x);
    at = p;
    gl_Position = vec4(corner * 2.0 - 1.0, 0.0, 1.0);
}
)";

constexpr const char* fragment_source = R"(#version 330 core
uniform sampler2D first, second, third;
uniform int layout_kind;   // 0 three planes, 1 luma and paired chroma, 2 grey, 3 packed RGB
uniform float sample_scale; // brings samples of more than eight bits to 0..1
uniform vec2 luma;         // offset, gain
uniform float chroma_gain;
uniform vec4 weights;      // red from V, green from U, green from V, blue from U
in vec2 at;
out vec4 colour;
void main() {
    vec4 a = texture(first, at) * sample_scale;
    if (layout_kind == 3) { colour = vec4(a.rgb, 1.0); return; }
    float y = (a.r - luma.x) * luma.y;
    vec2 uv = vec2(0.0);
    if (layout_kind == 0) uv = vec2(texture(second, at).r, texture(third, at).r) * sample_scale - 128.0 / 255.0;
    if (layout_kind == 1) uv = texture(second, at).rg * sample_scale - 128.0 / 255.0;
    uv *= chroma_gain;
    colour = vec4(y + weights.x * uv.y, y - weights.y * uv.x - weights.z * uv.y, y + weights.w * uv.x, 1.0);
}
)";

GLuint compile(GLenum kind, const char* source) {
    const GLuint shader = glCreateShader(kind);
    glShaderSource(shader, 1, &source, nullptr);
    glCompileShader(shader);
    GLint built = 0;
    glGetShaderiv(shader, GL_COMPILE_STATUS, &built);
    if (built == GL_FALSE) {
        std::array<char, 512> log{};
        glGetShaderInfoLog(shader, static_cast<GLsizei>(log.size()), nullptr, log.data());
        throw std::runtime_error(std::string("the film shader does not build on this graphics driver: ") +
                                 log.data());
    }
    return shader;
}

GLuint new_texture() {
    GLuint name = 0;
    glGenTextures(1, &name);
    glBindTexture(GL_TEXTURE_2D, name);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MIN_FILTER, GL_LINEAR);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_MAG_FILTER, GL_LINEAR);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_WRAP_S, GL_CLAMP_TO_EDGE);
    glTexParameteri(GL_TEXTURE_2D, GL_TEXTURE_WRAP_T, GL_CLAMP_TO_EDGE);
    return name;
}

/// Red from V, green from U and from V, blue from U: derived from the luma weights of each standard
/// (ITU-R BT.601-7, BT.709-6, BT.2020-2): Kr and Kb, with Kg = 1 - Kr - Kb.
std::array<float, 4> colour_weights(ColourMatrix matrix) {
    double kr = 0.299;
    double kb = 0.114;
    switch (matrix) {
    case ColourMatrix::bt601:
        break;
    case ColourMatrix::bt709:
        kr = 0.2126;
        kb = 0.0722;
        break;
    case ColourMatrix::bt2020:
        kr = 0.2627;
        kb = 0.0593;
        break;
    }
    const double kg = 1.0 - kr - kb;
    return {static_cast<float>(2.0 * (1.0 - kr)), static_cast<float>(2.0 * kb * (1.0 - kb) / kg),
            static_cast<float>(2.0 * kr * (1.0 - kr) / kg), static_cast<float>(2.0 * (1.0 - kb))};
}

void upload(GLuint texture, const Picture& picture, const Picture::Plane& plane, int channels) {
    const bool wide = picture.bits() > 8;
    const GLenum formats[] = {GL_RED, GL_RG, GL_RGB, GL_RGBA};
    const GLint narrow_inside[] = {GL_R8, GL_RG8, GL_RGB8, GL_RGBA8};
    const GLint wide_inside[] = {GL_R16, GL_RG16, GL_RGB16, GL_RGBA16};
    const int sample_bytes = (wide ? 2 : 1) * channels;
    glBindTexture(GL_TEXTURE_2D, texture);
    glPixelStorei(GL_UNPACK_ALIGNMENT, 1);
    glPixelStorei(GL_UNPACK_ROW_LENGTH, plane.stride_bytes / sample_bytes);
    glTexImage2D(GL_TEXTURE_2D, 0, wide ? wide_inside[channels - 1] : narrow_inside[channels - 1],
                 plane.width / channels, plane.height, 0, formats[channels - 1],
                 wide ? GL_UNSIGNED_SHORT : GL_UNSIGNED_BYTE, plane.bytes);
    glPixelStorei(GL_UNPACK_ROW_LENGTH, 0);
}

} // namespace

void FilmTexture::release() {
    if (program_ == 0) return;
    glDeleteTextures(3, planes_);
    glDeleteTextures(1, &target_);
    glDeleteFramebuffers(1, &frame_);
    glDeleteVertexArrays(1, &corners_);
    glDeleteProgram(program_);
    program_ = 0;
    filled_ = false;
}

void FilmTexture::build() {
    program_ = glCreateProgram();
    const GLuint vertex = compile(GL_VERTEX_SHADER, vertex_source);
    const GLuint fragment = compile(GL_FRAGMENT_SHADER, fragment_source);
    glAttachShader(program_, vertex);
    glAttachShader(program_, fragment);
    glLinkProgram(program_);
    glDeleteShader(vertex);
    glDeleteShader(fragment);
    glGenVertexArrays(1, &corners_);
    for (unsigned& plane : planes_)
        plane = new_texture();
    target_ = new_texture();
    glGenFramebuffers(1, &frame_);
}

void FilmTexture::reserve(int width, int height) {
    if (width == width_ && height == height_) return;
    width_ = width;
    height_ = height;
    glBindTexture(GL_TEXTURE_2D, target_);
    glTexImage2D(GL_TEXTURE_2D, 0, GL_RGB8, width, height, 0, GL_RGB, GL_UNSIGNED_BYTE, nullptr);
    glBindFramebuffer(GL_FRAMEBUFFER, frame_);
    glFramebufferTexture2D(GL_FRAMEBUFFER, GL_COLOR_ATTACHMENT0, GL_TEXTURE_2D, target_, 0);
    glBindFramebuffer(GL_FRAMEBUFFER, 0);
}

void FilmTexture::put(const Picture& picture, const FilmFacts& facts) {
    if (program_ == 0) build();
    reserve(facts.shown_width_px, facts.shown_height_px);
    const auto planes = picture.planes();
    int kind = 0;
    switch (picture.layout()) {
    case Picture::Layout::planar_yuv:
        kind = 0;
        break;
    case Picture::Layout::semi_planar_yuv:
        kind = 1;
        break;
    case Picture::Layout::grey:
        kind = 2;
        break;
    case Picture::Layout::packed_rgb:
        kind = 3;
        break;
    }
    const int first_channels = kind == 3 ? planes[0].width / picture.width_px() : 1;
    upload(planes_[0], picture, planes[0], first_channels);
    // One sample a pixel: nothing lies between them, and taking the nearest costs a software renderer least.
    const bool pixel_for_pixel = picture.width_px() * picture.height_px() == width_ * height_ &&
                                 (picture.width_px() == width_ || picture.width_px() == height_);
    glBindTexture(GL_TEXTURE_2D, planes_[0]);
    for (const GLenum filter : {GL_TEXTURE_MIN_FILTER, GL_TEXTURE_MAG_FILTER})
        glTexParameteri(GL_TEXTURE_2D, filter, pixel_for_pixel ? GL_NEAREST : GL_LINEAR);
    if (kind == 0) {
        upload(planes_[1], picture, planes[1], 1);
        upload(planes_[2], picture, planes[2], 1);
    } else if (kind == 1) {
        upload(planes_[1], picture, planes[1], 2);
    }

    const bool wide = picture.bits() > 8;
    const float top = wide ? static_cast<float>((1 << picture.bits()) - 1) : 255.0F;
    const float luma_offset = facts.full_range ? 0.0F : 16.0F / 255.0F;
    const float luma_gain = facts.full_range ? 1.0F : 255.0F / 219.0F;
    const auto weights = colour_weights(facts.matrix);
    const auto at = [&](const char* name) { return glGetUniformLocation(program_, name); };

    glBindFramebuffer(GL_FRAMEBUFFER, frame_);
    glViewport(0, 0, width_, height_);
    glDisable(GL_BLEND);
    glDisable(GL_SCISSOR_TEST);
    glDisable(GL_CULL_FACE);
    glDisable(GL_DEPTH_TEST);
    glUseProgram(program_);
    glUniform1i(at("first"), 0);
    glUniform1i(at("second"), 1);
    glUniform1i(at("third"), 2);
    glUniform1i(at("layout_kind"), kind);
    glUniform1i(at("quarter_turns"), facts.rotation_degrees / 90);
    glUniform1f(at("sample_scale"), wide ? 65535.0F / top : 1.0F);
    glUniform2f(at("luma"), luma_offset, luma_gain);
    glUniform1f(at("chroma_gain"), facts.full_range ? 1.0F : 255.0F / 224.0F);
    glUniform4f(at("weights"), weights[0], weights[1], weights[2], weights[3]);
    for (int index = 0; index < 3; ++index) {
        glActiveTexture(static_cast<GLenum>(GL_TEXTURE0 + index));
        glBindTexture(GL_TEXTURE_2D, planes_[index]);
    }
    glBindVertexArray(corners_);
    glDrawArrays(GL_TRIANGLE_STRIP, 0, 4);
    glBindVertexArray(0);
    glActiveTexture(GL_TEXTURE0);
    glBindFramebuffer(GL_FRAMEBUFFER, 0);
    filled_ = true;
}

} // namespace ropeline
