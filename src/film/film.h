// A film file: which frames it shows, in which order, and each of them exactly.
// Frames are counted in presentation order from 0; their identity is the 64-bit pts in the stream's own time
// base, never seconds. No libav type leaves this folder.
#pragma once

#include <cstddef>
#include <cstdint>
#include <functional>
#include <memory>
#include <optional>
#include <span>
#include <stdexcept>
#include <stop_token>
#include <string>
#include <vector>

namespace ropeline {

enum class FrameIndex : std::int64_t {};
constexpr std::int64_t number(FrameIndex frame) {
    return static_cast<std::int64_t>(frame);
}

struct Pts {
    std::int64_t ticks = 0;
    friend constexpr auto operator<=>(const Pts&, const Pts&) = default;
};

struct TimeBase {
    int numerator = 1;
    int denominator = 1;
};

enum class FilmFault {
    not_found,
    is_directory,
    unreadable,
    empty,
    not_film,
    no_picture,
    damaged,
    cannot_write
};

struct FilmError : std::runtime_error {
    FilmError(FilmFault f, const std::string& what) : std::runtime_error(what), fault(f) {}
    FilmFault fault;
};

enum class ColourMatrix { bt601, bt709, bt2020 };

struct FilmFacts {
    std::string path, container, codec, pixel_format;
    int width_px = 0, height_px = 0;             ///< of the decoded planes, cropped, not rotated
    int shown_width_px = 0, shown_height_px = 0; ///< with square pixels and rotation: what a coach sees
    int sample_aspect_numerator = 1, sample_aspect_denominator = 1;
    int rotation_degrees = 0; ///< clockwise turn needed to show the picture upright: 0, 90, 180, 270
    TimeBase time_base;
    double average_rate_hz = 0.0;
    ColourMatrix matrix{};
    bool full_range = false;
    bool interlaced = false; ///< two fields a frame, as the stream says
    bool top_field_first = true;
    bool has_sound = false;
    int picture_streams = 1; ///< more than one: choose by FilmOptions::stream
    std::uint64_t file_bytes = 0;
    std::string fingerprint;           ///< content fingerprint, hex; independent of the path
    std::vector<std::string> warnings; ///< one line each: truncated, missing frames ...
};

/// Planes of one decoded frame in its native pixel format. Immutable and shared.
class Picture {
public:
    struct Plane {
        const std::uint8_t* bytes;
        int stride_bytes, width, height; ///< width and height in samples
    };
    enum class Layout { planar_yuv, semi_planar_yuv, grey, packed_rgb };

    /// The decoder's own planes where `planes` are a conversion of them for show; else empty.
    struct Native {
        std::vector<Plane> planes;
        int sample_bytes;
    };

    Picture(std::shared_ptr<const void> owner, Layout layout, std::vector<Plane> planes, int bits,
            int width_px, int height_px, std::size_t bytes, Pts pts, Native native = {});
    Layout layout() const { return layout_; }
    std::span<const Plane> planes() const { return planes_; }
    int bits() const {
        return bits_;
    } ///< significant bits a sample; above 8 samples take two bytes, low-aligned
    int width_px() const { return width_px_; }
    int height_px() const { return height_px_; }
    std::size_t bytes() const { return bytes_; } ///< memory it holds
    Pts pts() const { return pts_; }
    bool converted() const { return !native_.planes.empty(); } ///< planes() are not the decoder's own
    /// MD5 over the raw planes in the native pixel format, rows packed, planes in order, not rotated;
    /// lower-case hex.
    std::string md5() const;

private:
    std::shared_ptr<const void> owner_;
    Layout layout_;
    std::vector<Plane> planes_;
    Native native_;
    int bits_, width_px_, height_px_;
    std::size_t bytes_;
    Pts pts_;
};
using PicturePtr = std::shared_ptr<const Picture>;

/// Frames in presentation order.
class FrameTable {
public:
    FrameTable() = default;
    FrameTable(std::vector<Pts> pts, TimeBase time_base);
    std::int64_t count() const { return static_cast<std::int64_t>(pts_.size()); }
    Pts pts_of(FrameIndex frame) const;
    /// In the stream's own time, not shifted; but where time jumps back (joined recordings) it goes on from
    /// frame to frame.
    double seconds_of(FrameIndex frame) const;
    TimeBase time_base() const { return time_base_; }
    FrameIndex clamp(std::int64_t wanted) const;
    /// The frame shown at a time: frame i is shown from its pts until the pts of frame i + 1; clamped at both
    /// ends.
    FrameIndex shown_at(double seconds) const;

private:
    std::int64_t ticks_of(std::size_t frame) const;
    std::vector<Pts> pts_;
    std::vector<std::int64_t> ticks_; // only where pts jump back
    TimeBase time_base_;
};

/// A place where the film lacks pictures: between two neighbours, or over a stretch of frames that cannot be
/// decoded.
struct FilmHole {
    FrameIndex first{}, last{};
    std::int64_t lost_frames = 0;
    std::string why; ///< one line
};

struct FilmOptions {
    std::size_t cache_bytes = std::size_t{256} << 20; ///< pictures kept for going back
    int stream = -1;                                  ///< which picture stream, from 0; -1 for the usual one
    int threads = 0;                                  ///< decoder threads; 0 for what suits codec and machine
    /// What index_to_keep() gave when this film was open before; anything else is ignored and the film read
    /// through.
    std::vector<std::byte> kept_index = {};
};

/// Blocking, exact access in any order. One thread at a time.
class FilmReader {
public:
    /// Opens and indexes the file (every packet is read once, nothing is decoded).
    /// Throws FilmError with one line a coach can act on.
    explicit FilmReader(const std::string& path, const FilmOptions& options = {});
    ~FilmReader();
    FilmReader(FilmReader&&) noexcept;
    FilmReader& operator=(FilmReader&&) noexcept;

    const FilmFacts& facts() const;
    const FrameTable& frames() const;
    /// The frame, verified by pts. Throws FilmError::damaged where the film has no such picture.
    PicturePtr picture(FrameIndex frame);
    /// The nearest frame at or before this one whose picture can be had without decoding others first, frame 0
    /// where there is none.
    FrameIndex begins_at(FrameIndex frame) const;
    /// Places where pictures are missing, as far as known: gaps and a cut end at once, damage once it was
    /// met.
    std::vector<FilmHole> holes() const;
    /// The index as bytes, about 8 a frame, to be given back as FilmOptions::kept_index.
    std::vector<std::byte> index_to_keep() const;
    /// Pictures the decoder has put out so far, shown or not: what a benchmark counts.
    std::int64_t decoded() const;

private:
    struct Insides;
    std::unique_ptr<Insides> insides_;
};

/// The desk's film: decodes on its own thread, keeps a bounded cache, never blocks the caller.
class FilmDesk {
public:
    /// Returns at once; open errors arrive through state().
    explicit FilmDesk(std::string path, std::size_t cache_bytes = std::size_t{512} << 20);
    FilmDesk(std::string path, const FilmOptions& options);
    ~FilmDesk();
    FilmDesk(const FilmDesk&) = delete;
    FilmDesk& operator=(const FilmDesk&) = delete;

    enum class State { opening, ready, failed };
    State state() const;
    std::string error() const;                        ///< when failed: one line
    std::shared_ptr<const FilmFacts> facts() const;   ///< with the first picture
    std::shared_ptr<const FrameTable> frames() const; ///< once ready
    /// Asks for a frame; what was asked before and is not decoded yet is dropped. `direction` (-1, 0, +1)
    /// guides prefetch.
    void want(FrameIndex frame, int direction);
    /// The frame if it is in the cache.
    PicturePtr cached(FrameIndex frame) const;
    /// Why this frame cannot be had (damaged film), or empty.
    std::string missing(FrameIndex frame) const;
    /// The film's first picture; there long before state() is ready, and facts() with it.
    PicturePtr first_picture() const;
    double progress() const;                      ///< of opening, 0 to 1
    std::vector<FilmHole> holes() const;          ///< as FilmReader::holes()
    std::vector<std::byte> index_to_keep() const; ///< once ready, else empty; as FilmReader::index_to_keep()

private:
    struct Insides;
    std::unique_ptr<Insides> insides_;
};

/// Name and version of what reads films here ("libavformat 59.27.100"): kept beside an index.
std::string film_library();

/// Size and a hash of head, middle and tail: finds a film again after it was moved or renamed.
std::string film_fingerprint(const std::string& path);

} // namespace ropeline
