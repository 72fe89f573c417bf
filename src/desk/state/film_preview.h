// Pictures of a film away from where it stands, decoded on a thread of their own so that they never get in the
// way of the frame the coach is on.
#pragma once

#include "film/film_reader.h"

#include <condition_variable>
#include <mutex>
#include <optional>
#include <string>
#include <thread>

namespace ropeline {

class FilmPreview {
public:
    /// The film is opened with the index known, at once; a film that cannot be opened never shows anything.
    FilmPreview(std::string path, std::vector<std::byte> kept_index);
    ~FilmPreview() = default;
    FilmPreview(const FilmPreview&) = delete;
    FilmPreview& operator=(const FilmPreview&) = delete;

    struct Seen {
        FrameIndex frame{}; ///< the one that was found, up to `within` frames before the one asked for
        PicturePtr picture;
    };
    /// Asks for a picture; what was asked before and is not decoded yet is dropped. A frame that can be had without
    /// decoding others is taken when it lies at most `within` frames before.
    void ask(FrameIndex frame, std::int64_t within);
    /// The newest picture since the last call, or nothing.
    std::optional<Seen> take();
    bool awaited() const; ///< a picture asked for may still come

private:
    struct Wish {
        FrameIndex frame{};
        std::int64_t within = 0;
        friend bool operator==(const Wish&, const Wish&) = default;
    };
    void run(const std::stop_token& stop, const std::string& path, const FilmOptions& options);

    mutable std::mutex guard_;
    std::condition_variable_any changed_;
    std::optional<Wish> wish_, answered_; // guarded, as is seen_
    std::optional<Seen> seen_;
    bool closed_ = false; // guarded: the film could not be opened
    std::jthread thread_; // last: it uses the others until it is joined
};

} // namespace ropeline
