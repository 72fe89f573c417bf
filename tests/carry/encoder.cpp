#include "carry/encoder.h"

#include <fmt/core.h>

#include <cstdio>
#include <memory>
#include <stdexcept>
#include <string>

namespace ropeline {
namespace {

/// Bytes into a command's standard input.
class Pipe {
public:
    explicit Pipe(const std::string& command) : command_(command), stream_(popen(command.c_str(), "w")) {
        if (!stream_) fail();
    }
    ~Pipe() {
        if (stream_) pclose(stream_);
    }
    Pipe(const Pipe&) = delete;
    Pipe& operator=(const Pipe&) = delete;

    void write(std::span<const std::uint8_t> bytes) {
        if (std::fwrite(bytes.data(), 1, bytes.size(), stream_) != bytes.size()) fail();
    }
    void finish() {
        std::FILE* stream = stream_;
        stream_ = nullptr;
        if (pclose(stream) != 0) fail();
    }

private:
    [[noreturn]] void fail() const { throw std::runtime_error("this failed: " + command_); }

    std::string command_;
    std::FILE* stream_;
};

std::string reading(ImageSize size) {
    return fmt::format("ffmpeg -y -loglevel error -f rawvideo -pix_fmt rgb24 -s {}x{} -r 30 -i -",
                       size.width_px, size.height_px);
}

} // namespace

void encode(const std::filesystem::path& path, const FilmEncoding& how, int frames,
            const std::function<std::span<const std::uint8_t>(int frame)>& picture) {
    const std::string filter =
        how.interlaced
            ? "scale=interl=1:out_color_matrix=bt709,setfield=tff"
            : fmt::format("scale=out_color_matrix=bt709,settb=1/3000,setpts='100*(N+{}*sin(1.7*N))'",
                          how.jitter);
    Pipe pipe(
        fmt::format("{} -vf \"{}\" {} -c:v libx264 -preset veryfast -crf {} -g 180 -bf 2 -pix_fmt yuv420p "
                    "-colorspace bt709 -color_primaries bt709 -color_trc bt709 \"{}\"",
                    reading(how.size), filter,
                    how.interlaced ? "-flags +ildct+ilme -x264opts tff=1"
                                   : "-vsync passthrough -enc_time_base 1/3000 -video_track_timescale 3000",
                    how.crf, path.string()));
    for (int frame = 0; frame < frames; ++frame)
        pipe.write(picture(frame));
    pipe.finish();
}

void write_picture(const std::filesystem::path& path, ImageSize size, std::span<const std::uint8_t> rgb) {
    Pipe pipe(fmt::format("{} -frames:v 1 \"{}\"", reading(size), path.string()));
    pipe.write(rgb);
    pipe.finish();
}

} // namespace ropeline
