#include "film/fingerprint.h"

#include <array>
#include <filesystem>
#include <fstream>
#include <vector>

#include "film/av.h"
#include "film/film_error.h"

namespace ropeline {

std::string film_fingerprint(const std::string& path) {
    constexpr std::uint64_t piece =
        65536; // enough to tell two films of one camera apart, quick on a slow card
    std::error_code code;
    const std::uint64_t size = std::filesystem::file_size(path, code);
    std::ifstream file(path, std::ios::binary);
    if (code || !file)
        throw FilmError(FilmFault::unreadable, "cannot read " + path + " to recognise it again");
    std::vector<std::uint8_t> bytes;
    for (int i = 0; i < 8; ++i)
        bytes.push_back(static_cast<std::uint8_t>(size >> (8 * i)));
    std::vector<char> part(piece);
    for (const std::uint64_t start : {std::uint64_t{0}, size / 2, size > piece ? size - piece : 0}) {
        file.clear();
        file.seekg(static_cast<std::streamoff>(start));
        file.read(part.data(), static_cast<std::streamsize>(part.size()));
        bytes.insert(bytes.end(), part.data(), part.data() + file.gcount());
    }
    std::uint8_t digest[16];
    av_md5_sum(digest, bytes.data(), bytes.size());
    return av::hex(digest);
}

} // namespace ropeline
