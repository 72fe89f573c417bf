// Decodes a film from an entry onwards and says of each picture which frame it is. Only for src/film.
#pragma once

#include <algorithm>
#include <functional>
#include <memory>
#include <optional>

#include "film/picture.h"
#include "film/picture_memory.h"
#include "film/source.h"

namespace ropeline {

/// `threads`: 0 for what suits the codec and this machine. `reorder`: pictures held back to bring them in
/// order, at least.
/// `memory` must outlive the codec.
av::Codec open_decoder(const Source& source, int threads, int reorder, PictureMemory& memory);

class Decoding {
public:
    /// `threads`: 0 for what suits the codec and this machine.
    Decoding(Source source, std::shared_ptr<const FilmIndex> index, int threads = 0);

    using Sink = std::function<void(FrameIndex, PicturePtr)>;

    /// True when going on from here reaches the frame without decoding more than from its own entry.
    bool leads_to(FrameIndex frame) const;
    /// Jumps to an entry (a packet of the index). Pictures shown before `needed` that no other leans on are
    /// not decoded. Throws FilmError::damaged when the entry cannot be reached.
    void begin_at(std::int32_t entry, FrameIndex needed = {});
    /// Going on from here, pictures shown before `needed` that no other leans on are not decoded.
    void pass_over_to(FrameIndex needed) { needed_ = std::max(needed_, needed); }
    /// Feeds one packet and hands on what came out. False when the film is at its end and all has come out.
    bool step(const Sink& sink);
    /// No packet after this one is wanted: gets out what the decoder still holds. The next use must begin
    /// anew.
    void finish(const Sink& sink);

    /// Whether the next packet holds a picture that is shown before the first needed one.
    bool passes_over_next() const;
    std::int32_t next_packet() const { return next_; }
    std::int64_t decoded() const { return decoded_; } ///< pictures that came out of the decoder, shown or not
    int threads() const { return codec_->thread_count; }
    PictureMemory& memory() { return *memory_; } ///< where its pictures lie
    const Source& source() const { return source_; }

private:
    bool read_next();
    bool reach(std::int32_t packet);
    void drop_held();
    std::optional<std::int32_t> place_of(const AVPacket& packet, std::int32_t not_after) const;
    void receive(const Sink& sink);

    std::shared_ptr<const FilmIndex> index_;
    Source source_;
    std::unique_ptr<PictureMemory> memory_ =
        std::make_unique<PictureMemory>(); // before codec_: its pictures lie here
    av::Codec codec_;
    av::Packet packet_ = av::make_packet();
    av::Frame frame_ = av::make_frame();
    std::int32_t read_at_ = -1;  // packet the source will read next; -1: not known
    std::int32_t next_ = -1;     // packet the decoder will be fed next; -1: begin_at first
    std::int32_t begun_ = 0;     // entry of the last begin_at
    std::int64_t last_out_ = -1; // frame that came out last since begin_at
    FrameIndex needed_{};        // as told to begin_at
    std::int64_t decoded_ = 0;
    bool ended_ = false;
    bool held_ = false; // packet_ already holds the packet to be read next
    mutable std::vector<std::pair<std::int64_t, std::int32_t>> by_position_;
};

} // namespace ropeline
