#include "film/read_index.h"

#include <algorithm>
#include <array>

namespace ropeline {

namespace {

/// libav's parser, used only to read picture type and order where the container gives no presentation times.
class OrderReader {
public:
    OrderReader(AVStream& stream, CodecKind kind) : kind_(kind) {
        parser_.reset(av_parser_init(stream.codecpar->codec_id));
        if (!parser_) return;
        parser_->flags |= PARSER_FLAG_COMPLETE_FRAMES;
        codec_ = av::make_codec(nullptr);
        avcodec_parameters_to_context(codec_.get(), stream.codecpar);
    }

    void note(const AVPacket& packet, const PacketLook& look, std::vector<PacketNote>& notes) {
        PacketNote& note = notes.back();
        const auto here = static_cast<std::int64_t>(notes.size()) - 1;
        char type = look.type.value_or(0);
        if (parser_) {
            std::uint8_t* out = nullptr;
            int out_size = 0;
            av_parser_parse2(parser_.get(), codec_.get(), &out, &out_size, packet.data, packet.size,
                             packet.pts, packet.dts, packet.pos);
            if (type == 0) type = av_get_picture_type_char(static_cast<AVPictureType>(parser_->pict_type));
        }
        if (kind_ == CodecKind::h264 || kind_ == CodecKind::hevc) {
            note.order = parser_ ? parser_->output_picture_number : here;
            note.new_sequence = look.first_of_all;
            return;
        }
        const bool at_once = type == 'B' || type == 'N';
        if (at_once) {
            note.order = shown_++;
            return;
        }
        flush(notes);
        waiting_ = here;
    }

    void flush(std::vector<PacketNote>& notes) {
        if (waiting_ >= 0) notes[static_cast<std::size_t>(waiting_)].order = shown_++;
        waiting_ = -1;
    }

private:
    struct CloseParser {
        void operator()(AVCodecParserContext* owned) const noexcept { av_parser_close(owned); }
    };
    CodecKind kind_;
    av::Codec codec_;
    std::unique_ptr<AVCodecParserContext, CloseParser> parser_;
    std::int64_t shown_ = 0, waiting_ = -1;
};

} // namespace

namespace {

bool lacks_times(const FilmIndex& index) {
    return std::any_of(index.packets.begin(), index.packets.end(),
                       [](const auto& note) { return note.pts == no_time; });
}

void read_packets(Source& source, FilmIndex& index, OrderReader* order,
                  const std::function<void(std::int64_t)>& progress, const std::stop_token& stop) {
    const CodecKind kind = source.codec_kind();
    const AVCodecParameters& codec = *source.stream().codecpar;
    const int length_bytes = nal_length_bytes(
        kind, {codec.extradata, static_cast<std::size_t>(std::max(0, codec.extradata_size))});
    const auto packet = av::make_packet();
    std::vector<int> layers;
    std::int64_t furthest = 0;
    while (!stop.stop_requested() && source.read(*packet)) {
        const av::PacketLease lease(*packet);
        const PacketLook look =
            look_at(kind, {packet->data, static_cast<std::size_t>(packet->size)}, length_bytes);
        PacketNote note;
        note.position = packet->pos;
        note.pts = believed(packet->pts);
        note.dts = believed(packet->dts);
        note.size = packet->size;
        note.key = (packet->flags & AV_PKT_FLAG_KEY) != 0;
        note.hidden = (packet->flags & AV_PKT_FLAG_DISCARD) != 0 || !look.shown;
        note.entry = (note.key && look.entry) || kind == CodecKind::intra_only;
        note.recovery_pictures = look.recovery_pictures;
        note.disposable = look.disposable;
        index.packets.push_back(note);
        layers.push_back(look.layer);
        if (order) order->note(*packet, look, index.packets);
        furthest = std::max(furthest, packet->pos);
        if (progress && index.packets.size() % 256 == 0) progress(furthest);
    }
    if (order) order->flush(index.packets);
    // In HEVC a picture is disposable among those of its own layer only, so only those of the highest may be
    // left out.
    const int highest = layers.empty() ? 0 : *std::max_element(layers.begin(), layers.end());
    for (std::size_t i = 0; i < layers.size(); ++i) {
        if (layers[i] != highest) index.packets[i].disposable = false;
    }
}

} // namespace

FilmIndex read_index(Source& source, const std::function<void(std::int64_t)>& progress,
                     std::stop_token stop) {
    FilmIndex index;
    index.time_base = {source.stream().time_base.num, source.stream().time_base.den};
    read_packets(source, index, nullptr, progress, stop);
    if (lacks_times(index) && !stop.stop_requested()) {
        // Seldom: the order then has to come out of the pictures' own headers, in a second pass.
        source.rewind();
        index.packets.clear();
        OrderReader order(source.stream(), source.codec_kind());
        read_packets(source, index, &order, progress, stop);
    }
    arrange(index, source.frame_ticks());
    return index;
}

} // namespace ropeline
