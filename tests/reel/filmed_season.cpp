#include "reel/filmed_season.h"

#include "film/clips.h"
#include "season/derive.h"
#include "season/play.h"

namespace ropeline::test {
namespace {

RinkFit fit_of_camera() {
    std::vector<LandmarkClick> clicks;
    for (const IcePoint at :
         {IcePoint{-0.9, 0.0}, IcePoint{0.9, 0.0}, IcePoint{-6.7, 6.1}, IcePoint{6.7, 6.1},
          IcePoint{-4.0, 17.0}, IcePoint{5.0, 15.0}, IcePoint{0.0, 1.8}})
        clicks.push_back({camera_sees(at), at, {}});
    return fit_rink(clicks, {640, 360});
}

Mark mark(MarkKind kind, IcePoint at) {
    Mark mark;
    mark.kind = kind;
    mark.at = camera_sees(at);
    return mark;
}

Shot shot_of(const sample::Ids& ids, const Id& goalie, const std::string& note) {
    Shot shot = sample::shot(ids, release_frame, Outcome::goal);
    shot.goalie_id = goalie;
    shot.pts_ticks = 1001 * release_frame;
    shot.film_s = release_frame * 1001 / 30000.0;
    shot.note = note;
    return shot;
}

void put_moment(SeasonFile& file, std::vector<Moment>& play, const Shot& shot, const StoredFit& fit,
                MomentKind kind, std::int64_t frame, IcePoint goalie, IcePoint puck,
                std::optional<IcePoint> receiver) {
    Moment moment;
    moment.shot_id = shot.id;
    moment.ordinal = static_cast<int>(play.size());
    moment.kind = kind;
    moment.film_id = shot.film_id;
    moment.rink_fit_id = fit.id;
    moment.frame = frame;
    moment.pts_ticks = 1001 * frame;
    moment.marks = {mark(MarkKind::goalie, goalie), mark(MarkKind::puck, puck)};
    if (receiver) moment.marks.push_back(mark(MarkKind::threat, *receiver));
    derive(moment, &fit.fit, rule_book(fit.rules), file.season().parameters);
    play.push_back(moment);
}

Id put_shot(SeasonFile& file, Shot shot, const StoredFit& fit) {
    file.put(shot);
    std::vector<Moment> play;
    put_moment(file, play, shot, fit, MomentKind::pass, pass_frame, {-0.6, 1.9}, {-4.0, 8.0},
               IcePoint{3.5, 5.0});
    put_moment(file, play, shot, fit, MomentKind::release, release_frame, {0.3, 1.2}, {3.5, 5.0}, {});
    judge(shot, play, rule_book(fit.rules), file.season().parameters);
    for (Moment& moment : play)
        file.put(moment);
    return shot.id;
}

} // namespace

ImagePoint camera_sees(IcePoint at) {
    const double away = 1.0 + 0.03 * at.y_m; // the farther up-ice, the smaller
    return {320.0 + 40.0 * at.x_m / away, (330.0 + 2.0 * at.y_m) / away};
}

FilmedSeason::FilmedSeason(const FilmedNames& names) {
    clips::ffmpeg(
        "-f lavfi -i \"color=black:s=640x360:r=30000/1001:d=3.1,geq=lum='40+2*N':cb=128:cr=128\" -f lavfi -i "
        "\"sine=440:d=3.003\" -frames:v 90 -c:v libx264 -preset ultrafast -crf 4 -pix_fmt yuv420p "
        "-colorspace bt709 "
        "-color_primaries bt709 -color_trc bt709 -color_range tv -c:a aac " +
        clips::quoted((folder / "film.mp4").string()));
    SeasonFile file = SeasonFile::create(season(), sample::season(names.season));
    Team home{{}, names.home}, away{{}, names.away};
    file.put(home);
    file.put(away);
    Goalie one{{}, home.id, names.goalie, "left"}, other{{}, away.id, "Other Goalie", "left"};
    file.put(one);
    file.put(other);
    Game game{{}, "2026-11-01", home.id, away.id, RuleBookId::iihf, ""};
    file.put(game);
    Film film{{}, game.id, "film.mp4", 1, "ab12cd", {640, 360}, film_frames};
    file.put(film);
    StoredFit fit;
    fit.film_id = film.id;
    fit.rules = RuleBookId::iihf;
    fit.fit = fit_of_camera();
    file.put(fit);
    const sample::Ids ids{home.id, one.id, game.id, film.id, fit.id};
    shot = put_shot(file, shot_of(ids, one.id, names.note), fit);
    other_shot = put_shot(file, shot_of(ids, other.id, ""), fit);
    goalie = one.id;
    other_goalie = other.id;
}

ShownPlay FilmedSeason::play() const {
    const std::vector<Id> wanted{shot};
    return shown_plays(SeasonFile::open_to_read(season()), wanted).front();
}

} // namespace ropeline::test
