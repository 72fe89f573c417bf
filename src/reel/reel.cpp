#include "reel/reel.h"

#include "film/film_error.h"
#include "reel/captions.h"
#include "reel/reel_pictures.h"
#include "reel/reel_sound.h"
#include "season/whole_file.h"
#include "sheet/text.h"

#include <fmt/core.h>

#include <algorithm>
#include <chrono>
#include <cmath>
#include <filesystem>
#include <span>

namespace ropeline {
namespace {

/// What is made, and all that it says.
struct ReelPlan {
    std::vector<ReelPiece> pieces;
    std::vector<ReelPicture> pictures;
    std::vector<MovieChapter> chapters;
    std::vector<Caption> captions;
    std::int64_t length = 0;
};

ReelPiece card(std::string heading, std::string below, double seconds, std::int64_t begins) {
    constexpr std::int64_t each = movie_ticks_per_s / 30;
    const std::int64_t pictures = std::max<std::int64_t>(1, std::llround(seconds * 30.0));
    return {PieceKind::card, begins, pictures * each, {}, 1.0, each, std::move(heading), std::move(below)};
}

Caption caption_of(const ReelPiece& piece, const std::vector<ShownPlay>& plays, bool with_note) {
    Caption caption{piece.begins, piece.begins + piece.length, {}};
    for (std::size_t which = 0; which < piece.shown.size(); ++which) {
        const PlayOnScreen& shown = piece.shown[which];
        if (!shown.moment) continue;
        const ShownPlay& play = plays[shown.play];
        const ShownMoment& moment = play.moments[*shown.moment];
        const char* side = piece.shown.size() < 2 ? "" : which == 0 ? "Left: " : "Right: ";
        caption.text +=
            fmt::format("{}{} · {}\n", side, printable(name_of(play)), name_of(moment.moment.kind));
        for (const std::string& line :
             {moment.headline, moment.advice, with_note ? play.shot.note : std::string{}})
            if (!line.empty()) caption.text += printable(line) + "\n";
    }
    return caption;
}

void add(ReelPlan& plan, ReelPiece piece) {
    plan.length = piece.begins + piece.length;
    plan.pieces.push_back(std::move(piece));
}

void add_plays(ReelPlan& plan, std::span<const std::size_t> of, const std::vector<ShownPlay>& plays,
               const std::vector<const FrameTable*>& frames, const ReelOptions& options,
               std::size_t number_of_it) {
    const std::int64_t begins = plan.chapters.empty() ? 0 : plan.length;
    std::string title, game;
    for (const std::size_t index : of) {
        title += fmt::format("{}{}", title.empty() ? "" : " | ", printable(name_of(plays[index])));
        game += fmt::format("{}{}", game.empty() ? "" : " | ", game_of(plays[index]));
    }
    title = fmt::format("{}. {}", number_of_it, title);
    if (options.timing.card_s > 0.0) add(plan, card(title, game, options.timing.card_s, plan.length));
    for (ReelPiece& piece : pieces_of(of, plays, frames, options.timing, plan.length)) {
        if (piece.kind == PieceKind::freeze) plan.captions.push_back(caption_of(piece, plays, options.note));
        add(plan, std::move(piece));
    }
    std::erase_if(plan.captions, [](const Caption& caption) { return caption.text.empty(); });
    plan.chapters.push_back({begins, plan.length, title});
}

ReelPlan plan_of(const std::vector<ShownPlay>& plays, const std::vector<const FrameTable*>& frames,
                 const ReelOptions& options) {
    ReelPlan plan;
    if (options.timing.card_s > 0.0 && !options.title.empty()) {
        const std::string count = plays.size() == 1 ? "One shot" : fmt::format("{} shots", plays.size());
        add(plan, card(options.title, count, options.timing.card_s, 0));
    }
    const std::size_t together = options.beside ? 2 : 1;
    for (std::size_t first = 0, chapter = 1; first < plays.size(); first += together, ++chapter) {
        std::vector<std::size_t> of;
        for (std::size_t index = first; index < std::min(plays.size(), first + together); ++index)
            of.push_back(index);
        add_plays(plan, of, plays, frames, options, chapter);
    }
    for (std::size_t index = 0; index < plan.pieces.size(); ++index) {
        const auto pictures = pictures_of(index, plan.pieces[index], plays, frames);
        plan.pictures.insert(plan.pictures.end(), pictures.begin(), pictures.end());
    }
    return plan;
}

MovieOptions movie_options(const ReelOptions& options, const ReelPlan& plan,
                           const std::vector<ShownPlay>& plays, const ReelFilms& films) {
    MovieOptions movie;
    const FilmFacts& first = films.facts(0);
    const double shrink = std::min(
        {1.0, 1920.0 / std::max(1, first.shown_width_px), 1080.0 / std::max(1, first.shown_height_px)});
    movie.width_px =
        options.width_px > 0 ? options.width_px : static_cast<int>(first.shown_width_px * shrink) / 2 * 2;
    movie.height_px =
        options.height_px > 0 ? options.height_px : static_cast<int>(first.shown_height_px * shrink) / 2 * 2;
    movie.crf = options.crf;
    movie.preset = options.preset;
    movie.threads = options.threads;
    movie.with_sound = !options.voice.empty();
    for (std::size_t play = 0; play < plays.size(); ++play)
        movie.with_sound = movie.with_sound || (options.sound && films.facts(play).has_sound);
    movie.title = printable(options.title);
    movie.chapters = plan.chapters;
    return movie;
}

/// Writes picture after picture; false where it was told to stop.
bool write(const ReelPlan& plan, const std::vector<ShownPlay>& plays, ReelFilms& films,
           const ReelOptions& options, const MovieOptions& movie, MovieWriter& writer, const Going& going) {
    ReelPictures pictures(plays, films, options, movie.width_px, movie.height_px);
    ReelSound sound(plays, options.sound, options.voice);
    const auto start = std::chrono::steady_clock::now();
    std::optional<std::size_t> piece_now;
    for (std::size_t index = 0; index < plan.pictures.size(); ++index) {
        const ReelPicture& picture = plan.pictures[index];
        const ReelPiece& piece = plan.pieces[picture.piece];
        if (piece_now != picture.piece) {
            piece_now = picture.piece;
            films.let_go_but(piece.shown);
            if (movie.with_sound) writer.add_sound(sound.of(piece, films.frames()));
        }
        writer.add(pictures.compose(piece, picture), picture.at, picture.length);
        if (!going) continue;
        const double share = static_cast<double>(index + 1) / static_cast<double>(plan.pictures.size());
        const double passed = std::chrono::duration<double>(std::chrono::steady_clock::now() - start).count();
        if (!going(share, passed * (1.0 - share) / share)) return false;
    }
    return true;
}

} // namespace

ReelEnd make_reel(const std::vector<ShownPlay>& plays, const std::string& path, const ReelOptions& options,
                  const Going& going) {
    ReadThrough known;
    return make_reel(plays, path, options, going, known);
}

ReelEnd make_reel(const std::vector<ShownPlay>& plays, const std::string& path, const ReelOptions& options,
                  const Going& going, ReadThrough& known) {
    if (plays.empty()) throw ReelError("there is no shot on film to make a reel of");
    ReelFilms films(plays, known);
    const ReelPlan plan = plan_of(plays, films.frames(), options);
    const MovieOptions movie = movie_options(options, plan, plays, films);
    MovieWriter writer(path, movie);
    if (!write(plan, plays, films, options, movie, writer, going)) return ReelEnd::stopped;
    writer.finish();
    if (options.captions)
        write_whole_file(std::filesystem::path(path).replace_extension(".vtt"), web_vtt(plan.captions));
    return ReelEnd::made;
}

std::vector<std::string> without_film(std::vector<ShownPlay>& plays) {
    std::vector<std::string> said;
    std::erase_if(plays, [&](const ShownPlay& play) {
        std::error_code ignored;
        if (!play.film.id.empty() && std::filesystem::is_regular_file(play.film_path, ignored)) return false;
        const std::string why =
            play.film.id.empty() ? "is on no film" : fmt::format("its film {} is not there", play.film.path);
        said.push_back(fmt::format("{} ({}) {}", name_of(play), game_of(play), why));
        return true;
    });
    return said;
}

} // namespace ropeline
