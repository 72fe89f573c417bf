#include "film/film_file.h"

#include <cerrno>
#include <cstring>
#include <filesystem>

#include "film/film_error.h"

namespace ropeline {

namespace {

namespace fs = std::filesystem;

void check_file(const std::string& path) {
    std::error_code code;
    const fs::file_status status = fs::status(path, code);
    if (status.type() == fs::file_type::not_found) {
        throw FilmError(FilmFault::not_found,
                        "there is no file " + path + "; check the name, or choose where the film is now");
    }
    if (code) throw FilmError(FilmFault::unreadable, "cannot read " + path + ": " + code.message());
    if (fs::is_directory(status)) {
        throw FilmError(FilmFault::is_directory, path + " is a folder, not a film; choose a file inside it");
    }
    if (!fs::is_regular_file(status))
        throw FilmError(FilmFault::not_film, path + " is a device or pipe, not a film file");
    FILE* file = fopen(path.c_str(), "rb");
    if (!file) {
        throw FilmError(FilmFault::unreadable,
                        "cannot read " + path + ": " + std::strerror(errno) + "; check its permissions");
    }
    fclose(file);
    if (fs::file_size(path, code) == 0) {
        throw FilmError(FilmFault::empty, path + " is empty; copy the film again from the camera or card");
    }
}

/// Containers and bare streams that cameras, phones and editing programs write, and sound tracks, which are told
/// apart later. None of them opens another file.
constexpr const char* film_formats = "mov,matroska,webm,mpegts,mpeg,avi,flv,asf,mxf,gxf,nut,ogg,dv,ivf,obu,"
                                     "av1,h264,hevc,m4v,mpegvideo,mjpeg,vc1,"
                                     "h263,dhav,yuv4mpegpipe,rm,wtv,aac,ac3,flac,mp3,wav,w64,aiff,caf";

} // namespace

std::string not_a_film(const std::string& path) {
    return path + " is not a film this program can read, or it was cut off before its header was written; "
                  "copy it again, or convert it to MP4";
}

av::Input open_film_file(const std::string& path) {
    av::silence();
    check_file(path);
    av::Options wishes;
    wishes.set("protocol_whitelist", "file").set("format_whitelist", film_formats);
    AVFormatContext* raw = nullptr;
    if (avformat_open_input(&raw, ("file:" + path).c_str(), nullptr, wishes.address()) < 0)
        throw FilmError(FilmFault::not_film, not_a_film(path));
    return av::Input(raw);
}

} // namespace ropeline
