// Recording a voice over the reel that was made last: begun, kept, thrown away.
#include "desk/app.h"
#include "season/whole_file.h"

#include <fmt/core.h>

#include <algorithm>
#include <utility>

namespace ropeline {

std::filesystem::path voice_path(const std::filesystem::path& reel) {
    return std::filesystem::path(reel).replace_filename(reel.stem().string() + " voice.wav");
}

namespace {

void no_voice(ExportPart& part, const std::string& why) {
    part.voice.reset();
    part.said = why;
    part.trouble = true;
}

/// The reel runs by the recording's own time, so that what is said of a picture is heard with it. Where decoding is too slow
/// for that, pictures are passed over: the next one is asked for when the last has come.
void run_with_voice(VoiceOver& voice, const FrameTable& frames) {
    voice.take->gather();
    const double begins_s = frames.seconds_of(FrameIndex{0});
    const FrameIndex due = frames.shown_at(begins_s + voice.take->seconds());
    voice.film.want(voice.wanted, 1);
    const PicturePtr picture = voice.film.cached(voice.wanted);
    if (!picture) return;
    if (voice.on_screen != voice.wanted) voice.texture.put(*picture, *voice.film.facts());
    voice.on_screen = std::exchange(voice.wanted, due);
}

/// Once its first picture is there.
void begin_listening(VoiceOver& voice, const FrameTable& frames) {
    constexpr FrameIndex first{0};
    voice.film.want(first, 1);
    if (!voice.film.cached(first)) return;
    const FrameIndex last{frames.count() - 1};
    const double usual_s = (frames.seconds_of(last) - frames.seconds_of(first)) /
                           static_cast<double>(std::max<std::int64_t>(1, frames.count() - 1));
    voice.length_s = frames.seconds_of(last) - frames.seconds_of(first) + usual_s;
    voice.take.emplace();
}

} // namespace

void record_voice(App& app) {
    ExportPart& part = app.exports;
    if (part.work || part.voice || !part.made_reel) return;
    part.said.clear();
    part.voice = std::make_unique<VoiceOver>(part.made_reel->to);
}

void keep_voice(App& app) {
    ExportPart& part = app.exports;
    if (!part.voice || !part.voice->take || !part.made_reel || part.work) return;
    const std::filesystem::path path = voice_path(part.made_reel->to);
    try {
        write_whole_file(path, wav_of(part.voice->take->samples(), VoiceTake::rate_hz));
    } catch (const UnwritableFile& error) { // the take is still in hand: make room, then keep it again
        part.said = error.what();
        part.trouble = true;
        return;
    }
    part.voice.reset();
    ExportWish wish = *part.made_reel;
    wish.reel.voice = path.string();
    wish.replaces = true;
    start_export(app, wish);
}

void drop_voice(App& app) {
    ExportPart& part = app.exports;
    part.voice.reset();
    part.said = "The voice was thrown away; the reel is as it was.";
    part.trouble = false;
}

bool watch_voice(App& app) {
    ExportPart& part = app.exports;
    if (!part.voice) return false;
    VoiceOver& voice = *part.voice;
    if (voice.film.state() == FilmDesk::State::failed) {
        no_voice(part, voice.film.error());
        return true;
    }
    const auto frames = voice.film.state() == FilmDesk::State::ready ? voice.film.frames() : nullptr;
    if (!frames || frames->count() == 0) return true;
    try {
        if (!voice.take) begin_listening(voice, *frames);
    } catch (const std::runtime_error& error) {
        no_voice(part, error.what());
        return true;
    }
    if (!voice.take) return true;
    if (voice.take->seconds() < voice.length_s) {
        run_with_voice(voice, *frames);
    } else if (!part.trouble) { // else it could not be written, which is told
        keep_voice(app);
    }
    return true;
}

} // namespace ropeline
