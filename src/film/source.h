// The packets of one film's picture stream: opened, read in order, and found again after a jump. Only for
// src/film.
#pragma once

#include <deque>
#include <string>
#include <vector>

#include "film/av.h"
#include "film/film_index.h"
#include "film/packet_look.h"

namespace ropeline {

class Source {
public:
    /// Throws FilmError with one line a coach can act on. `stream`: which picture stream, -1 for the usual
    /// one.
    explicit Source(const std::string& path, int stream = -1);

    const std::string& path() const { return path_; }
    int wished_stream() const { return wished_stream_; }
    AVStream& stream() const { return *input_->streams[stream_]; }
    AVFormatContext& input() const { return *input_; }
    CodecKind codec_kind() const;
    std::int64_t frame_ticks() const; ///< usual duration of a frame, in ticks of the stream

    /// Reads the next packet of the stream into `packet`; false at the end or where nothing more can be read.
    bool read(AVPacket& packet);
    /// Why reading ended: 0 for a plain end.
    int end_code() const { return end_code_; }

    void rewind(); ///< to the first packet
    /// The next packets read, in this order, are these: those read last.
    void give_back(std::deque<av::Packet> packets) { given_back_ = std::move(packets); }
    /// Jumps to a packet near and not after `target`, when the container can. The caller checks where it
    /// landed.
    bool jump(const PacketNote& target);

private:
    void open();
    std::string path_;
    int wished_stream_ = -1;
    unsigned stream_ = 0;
    av::Input input_;
    std::deque<av::Packet> given_back_;
    int end_code_ = 0;
};

/// Whether this is a stream of moving pictures, not the picture on a cover.
bool is_picture_stream(const AVStream& stream);

} // namespace ropeline
