// Clips for the tests, made by the ffmpeg command line in a folder that goes away again.
#pragma once

#include <array>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <stdexcept>
#include <string>

namespace clips {

/// libav's own decoder threads meet through atomics in code that ThreadSanitizer cannot see into, and would
/// all be reported; under it the decoder runs on one thread, so that what is checked is this program's
/// threads.
#if defined(__SANITIZE_THREAD__)
constexpr int decoder_threads = 1;
#else
constexpr int decoder_threads = 0;
#endif

inline std::string quoted(const std::string& path) {
    std::string text(1, '\'');
    return text.append(path).append(1, '\'');
}

inline std::string output_of(const std::string& command) {
    FILE* pipe = popen(command.c_str(), "r");
    if (!pipe) throw std::runtime_error("cannot start: " + command);
    std::string text;
    std::array<char, 65536> part{};
    while (const std::size_t got = fread(part.data(), 1, part.size(), pipe))
        text.append(part.data(), got);
    if (pclose(pipe) != 0) throw std::runtime_error("failed: " + command);
    return text;
}

inline void ffmpeg(const std::string& arguments) {
    output_of("ffmpeg -nostdin -v error -y " + arguments);
}

class Folder {
public:
    Folder() {
        std::string name = (std::filesystem::temp_directory_path() / "ropeline_film_XXXXXX").string();
        if (!mkdtemp(name.data())) throw std::runtime_error("cannot make a folder for the test");
        path_ = name;
    }
    ~Folder() {
        std::error_code ignored;
        std::filesystem::remove_all(path_, ignored);
    }
    Folder(const Folder&) = delete;
    Folder& operator=(const Folder&) = delete;
    const std::filesystem::path& path() const { return path_; }
    std::string file(const std::string& name) const { return (path_ / name).string(); }

private:
    std::filesystem::path path_;
};

} // namespace clips
