#include "desk/film_texture.h"

#include "film/rgb.h"

#define GL_GLEXT_PROTOTYPES
#include <SDL_opengl.h>
#include <SDL_opengl_glext.h>

#include <array>
#include <stdexcept>
#include <string>
#include <string_view>

namespace ropeline {

namespace {

constexpr const char* vertex_source = R"(
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

// Built once for each layout: a software renderer walks both sides of every branch.
constexpr const char* fragment_source = R"(
uniform sampler2D first, second, third;
uniform float sample_scale; // brings samples of more than eight bits to 0..1
uniform vec2 luma;         // offset, gain
uniform float chroma_gain;
uniform vec4 weights;      // red from V, green from U, green from V, blue from U
in vec2 at;
out vec4 colour;
void main() {
    vec4 a = texture(first, at) * sample_scale;
#ifdef PACKED_RGB
    colour = vec4(a.rgb, 1.0);
#else
    float y = (a.r - luma.x) * luma.y;
#ifdef GREY
    colour = vec4(y, y, y, 1.0);
#else
#ifdef PLANAR_YUV
    vec2 uv = vec2(texture(second, at).r, texture(third, at).r);
#else
    vec2 uv = texture(second, at).rg;
#endif
    uv = (uv * sample_scale - 128.0 / 255.0) * chroma_gain;
    colour = vec4(y + weights.x * uv.y, y - weights.y * uv.x - weights.z * uv.y, y + weights.w * uv.x, 1.0);
#endif
#endif
}
)";

GLuint compile(GLenum kind, const std::string& defines, const char* source) {
    const GLuint shader = glCreateShader(kind);
    const std::string whole = "#version 330 core\n" + defines + source;
    const char* text = whole.c_str();
    glShaderSource(shader, 1, &text, nullptr);
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

GLuint program_for(Picture::Layout layout) {
    std::string define;
    switch (layout) {
    case Picture::Layout::planar_yuv:
        define = "#define PLANAR_YUV\n";
        break;
    case Picture::Layout::semi_planar_yuv:
        break;
    case Picture::Layout::grey:
        define = "#define GREY\n";
        break;
    case Picture::Layout::packed_rgb:
        define = "#define PACKED_RGB\n";
        break;
    }
    const GLuint vertex = compile(GL_VERTEX_SHADER, "", vertex_source);
    const GLuint fragment = compile(GL_FRAGMENT_SHADER, define, fragment_source);
    const GLuint program = glCreateProgram();
    glAttachShader(program, vertex);
    glAttachShader(program, fragment);
    glLinkProgram(program);
    glDeleteShader(vertex);
    glDeleteShader(fragment);
    return program;
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
    const GLint inside = wide ? wide_inside[channels - 1] : narrow_inside[channels - 1];
    const GLenum outside = formats[channels - 1];
    const GLenum kind = wide ? GL_UNSIGNED_SHORT : GL_UNSIGNED_BYTE;
    const int width = plane.width / channels;
    glBindTexture(GL_TEXTURE_2D, texture);
    glPixelStorei(GL_UNPACK_ALIGNMENT, 1);
    glPixelStorei(GL_UNPACK_ROW_LENGTH, plane.stride_bytes / sample_bytes);
    GLint known[3] = {0, 0, 0};
    glGetTexLevelParameteriv(GL_TEXTURE_2D, 0, GL_TEXTURE_WIDTH, &known[0]);
    glGetTexLevelParameteriv(GL_TEXTURE_2D, 0, GL_TEXTURE_HEIGHT, &known[1]);
    glGetTexLevelParameteriv(GL_TEXTURE_2D, 0, GL_TEXTURE_INTERNAL_FORMAT, &known[2]);
    if (known[0] == width && known[1] == plane.height && known[2] == inside) {
        glTexSubImage2D(GL_TEXTURE_2D, 0, 0, 0, width, plane.height, outside, kind, plane.bytes);
    } else {
        glTexImage2D(GL_TEXTURE_2D, 0, inside, width, plane.height, 0, outside, kind, plane.bytes);
    }
    glPixelStorei(GL_UNPACK_ROW_LENGTH, 0);
}

} // namespace

void FilmTexture::release() {
    if (corners_ == 0) return;
    glDeleteTextures(3, planes_);
    glDeleteTextures(1, &target_);
    glDeleteFramebuffers(1, &frame_);
    glDeleteVertexArrays(1, &corners_);
    glDeleteProgram(program_);
    corners_ = program_ = 0;
    filled_ = false;
}

void FilmTexture::build() {
    const auto* renderer = reinterpret_cast<const char*>(glGetString(GL_RENDERER));
    const std::string_view name = renderer ? renderer : "";
    no_card_ = name.starts_with("llvmpipe") || name.starts_with("softpipe");
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
    if (corners_ == 0) build();
    reserve(facts.shown_width_px, facts.shown_height_px);
    const bool as_shown =
        facts.rotation_degrees == 0 && picture.width_px() == width_ && picture.height_px() == height_;
    if (no_card_ && as_shown) {
        quick_rgba_of(picture, facts, rgba_);
        glBindTexture(GL_TEXTURE_2D, target_);
        glTexSubImage2D(GL_TEXTURE_2D, 0, 0, 0, width_, height_, GL_RGBA, GL_UNSIGNED_BYTE, rgba_.data());
        filled_ = true;
        return;
    }
    if (program_ == 0 || program_layout_ != picture.layout()) {
        glDeleteProgram(program_);
        program_ = program_for(picture.layout());
        program_layout_ = picture.layout();
    }
    upload_planes(picture);
    draw_planes(picture, facts);
    filled_ = true;
}

void FilmTexture::upload_planes(const Picture& picture) {
    using Layout = Picture::Layout;
    const Layout layout = picture.layout();
    const auto planes = picture.planes();
    const int first_channels = layout == Layout::packed_rgb ? planes[0].width / picture.width_px() : 1;
    upload(planes_[0], picture, planes[0], first_channels);
    // One sample a pixel: nothing lies between them, and taking the nearest costs a software renderer least.
    const bool pixel_for_pixel = picture.width_px() * picture.height_px() == width_ * height_ &&
                                 (picture.width_px() == width_ || picture.width_px() == height_);
    glBindTexture(GL_TEXTURE_2D, planes_[0]);
    for (const GLenum filter : {GL_TEXTURE_MIN_FILTER, GL_TEXTURE_MAG_FILTER})
        glTexParameteri(GL_TEXTURE_2D, filter, pixel_for_pixel ? GL_NEAREST : GL_LINEAR);
    if (layout == Layout::planar_yuv) {
        upload(planes_[1], picture, planes[1], 1);
        upload(planes_[2], picture, planes[2], 1);
    } else if (layout == Layout::semi_planar_yuv) {
        upload(planes_[1], picture, planes[1], 2);
    }
}

void FilmTexture::draw_planes(const Picture& picture, const FilmFacts& facts) {
    const bool wide = picture.bits() > 8;
    const float top = wide ? static_cast<float>((1 << picture.bits()) - 1) : 255.0F;
    const bool full_range =
        facts.full_range || picture.layout() == Picture::Layout::grey; // as libswscale takes grey films
    const float luma_offset = full_range ? 0.0F : 16.0F / 255.0F;
    const float luma_gain = full_range ? 1.0F : 255.0F / 219.0F;
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
    glUniform1i(at("quarter_turns"), facts.rotation_degrees / 90);
    glUniform1f(at("sample_scale"), wide ? 65535.0F / top : 1.0F);
    glUniform2f(at("luma"), luma_offset, luma_gain);
    glUniform1f(at("chroma_gain"), full_range ? 1.0F : 255.0F / 224.0F);
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
}

} // namespace ropeline
