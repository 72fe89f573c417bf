#include "film/clips.h"
#include "season/counted_rows.h"
#include "season/printed.h"
#include "unite/clip_spans.h"
#include "unite/extract.h"
#include "unite/other_names.h"

#include "film/film_reader.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cstdlib>
#include <cstring>

namespace ropeline {
namespace {

using namespace sample;

constexpr const char* other_name = "Quenby Halloran";

/// The mean grey of each frame, by the ffmpeg program.
std::string greys_of(const std::filesystem::path& film) {
    return clips::output_of("ffmpeg -nostdin -v error -i " + clips::quoted(film.string()) +
                            " -vf scale=1:1 -pix_fmt gray -f rawvideo -");
}

/// Two goalies on one film of 180 frames at 30 a second, each of a grey far from those beside it: one's play from frame 60 to 70, the
/// other's shots at frames 10 and 150.
struct TwoGoalies {
    Folder folder;
    std::filesystem::path path = folder / "club.season", into = folder / "tamm.season";
    Goalie goalie;
    Id shot_id, other_shot_id, other_moment_id, other_mark_id;

    TwoGoalies() {
        clips::ffmpeg(
            "-f lavfi -i \"color=black:s=320x180:r=30:d=6.1,geq=lum='40+mod(37*N,180)':cb=128:cr=128\" "
            "-frames:v 180 "
            "-c:v "
            "libx264 -preset ultrafast -crf 4 -g 60 -pix_fmt yuv420p -metadata title='Quenby Halloran' " +
            clips::quoted((folder / "Quenby Halloran.mp4").string()));
        SeasonFile file = SeasonFile::create(path, season("Winter of Quenby Halloran"));
        Ids ids = fill(file);
        goalie = file.goalies().front();
        Film film = file.films(ids.game).front();
        film.path = "Quenby Halloran.mp4";
        file.put(film);
        StoredFit fit = file.rink_fits(film.id).front();
        fit.frame = 20;
        file.put(fit);
        ClockMark mark{{}, film.id, 0, 0, 0.0, 2, 700.0, true};
        file.put(mark);
        Goalie other{{}, {}, other_name, "left"};
        file.put(other);
        own_play(file, ids);
        for (const std::int64_t frame : {10, 150})
            other_play(file, ids, other.id, frame);
    }

    void own_play(SeasonFile& file, const Ids& ids) {
        Shot one = at(ids, 70);
        one.note = "beaten far side";
        one.drill = "as Quenby does it";
        one.tags = {"late", "like halloran"};
        file.put(one);
        shot_id = one.id;
        for (const std::int64_t frame : {60, 70}) {
            Moment marked = moment(one.id, ids);
            marked.ordinal = frame == 70;
            marked.kind = frame == 70 ? MomentKind::release : MomentKind::pass;
            marked.frame = frame;
            marked.pts_ticks = 512 * frame;
            marked.rink_fit_id = ids.fit;
            file.put(marked);
            Answer answer;
            answer.moment_id = marked.id;
            answer.goalie_id = goalie.id;
            answer.answered_at = "2026-11-25T14:03:00Z";
            answer.answered_by = frame == 70 ? other_name : goalie.name;
            file.put(answer);
        }
    }

    void other_play(SeasonFile& file, Ids ids, const Id& other, std::int64_t frame) {
        ids.goalie = other;
        Shot one = at(ids, frame);
        file.put(one);
        other_shot_id = one.id;
        Moment marked = moment(one.id, ids, 1.777125);
        marked.frame = frame;
        file.put(marked);
        other_moment_id = marked.id;
        other_mark_id = marked.marks.front().id;
    }

    static Shot at(const Ids& ids, std::int64_t frame) {
        Shot one = shot(ids, frame);
        one.film_s = static_cast<double>(frame) / 30.0;
        one.note.clear();
        return one;
    }

    ExtractReport extract(const ExtractOptions& options = {}) {
        return extract_goalie(SeasonFile::open_to_read(path), goalie, into, options);
    }

    std::filesystem::path clip() const { return folder / "tamm clips" / "clip-001.mp4"; }
};

bool holds(const std::filesystem::path& path, const std::string& text) {
    return bytes_of(path).find(text) != std::string::npos;
}

std::string bytes_of_real(double value) {
    std::string bytes(sizeof value, '\0');
    std::memcpy(bytes.data(), &value, sizeof value);
    std::ranges::reverse(bytes); // SQLite keeps numbers with the highest byte first
    return bytes;
}

} // namespace

TEST_CASE("an extract holds no other goalie's name, shot or mark, searched byte by byte") {
    TwoGoalies season;
    for (const bool notes : {false, true}) {
        std::filesystem::remove(season.into);
        std::filesystem::remove_all(season.clip().parent_path());
        const ExtractReport report = season.extract({notes});
        CHECK(report.shots == 1);
        for (const auto& file : {season.into, season.clip()}) {
            for (const std::string& text :
                 {std::string{"Quenby"}, std::string{"quenby"}, std::string{"alloran"}, season.other_shot_id,
                  season.other_moment_id, season.other_mark_id})
                CHECK_FALSE(holds(file, text));
        }
        CHECK(holds(season.path, bytes_of_real(1.777125))); // the search would find the mark
        CHECK_FALSE(holds(season.into, bytes_of_real(1.777125)));
        CHECK(holds(season.into, "beaten far side") == notes);
        CHECK(value(season.into, "PRAGMA freelist_count") == "0");
        CHECK(value(season.into,
                    "SELECT (SELECT count(*) FROM change) + (SELECT count(*) FROM change_step)") == "0");
        CHECK(value(season.into, "PRAGMA integrity_check") == "ok");
    }
}

TEST_CASE("an extract has the goalie's shots with their figures, and the answers that he gave") {
    TwoGoalies season;
    season.extract();
    const std::string figures =
        "SELECT group_concat(depth_m || band || clearance_m || ifnull(verdict, '')) FROM "
        "(SELECT * FROM moment WHERE shot_id = '" +
        season.shot_id + "' ORDER BY ordinal)";
    CHECK(value(season.into, figures) == value(season.path, figures));
    CHECK(value(season.into,
                "SELECT group_concat(goalie || ' ' || home_team || ' ' || tags) FROM shot_facts") ==
          "Ilse Tamm Saltmarsh Herons late");
    CHECK(SeasonFile::open_to_count(season.into).counted_shots().shots == 1);
    SQLite::Database db{season.into.string(), SQLite::OPEN_READONLY};
    CHECK_FALSE(has_shots_to_count(db));
    CHECK(shots_counted_wrongly(db) == 0);
    CHECK(value(season.into, "SELECT drill FROM shot").empty());
    CHECK(value(season.into, "SELECT group_concat(answered_by) FROM answer") == "Ilse Tamm");
    CHECK(value(season.into, "SELECT name FROM season").empty());
}

TEST_CASE("a clip has exactly the frames around the play, none that another goalie is marked on, and the "
          "marks moved to it") {
    TwoGoalies season;
    const ExtractReport report = season.extract();
    CHECK(report.clips == 1);
    FilmReader clip(season.clip().string());
    // From a second after the other's frame 10 to a second before 150.
    REQUIRE(clip.frames().count() == 120 - 40 + 1);
    const SeasonFile file = SeasonFile::open_to_read(season.into);
    const Shot shot = file.shots(file.games().front().id).front();
    CHECK(shot.frame == 70 - 40);
    CHECK(shot.film_s == doctest::Approx(30.0 / 30.0));
    CHECK(shot.pts_ticks == clip.frames().pts_of(FrameIndex{shot.frame}).ticks);
    const std::string whole = greys_of(season.folder / "Quenby Halloran.mp4"), cut = greys_of(season.clip());
    REQUIRE(cut.size() == 81);
    for (std::size_t frame = 0; frame < cut.size(); ++frame)
        CHECK(std::abs(static_cast<unsigned char>(cut[frame]) -
                       static_cast<unsigned char>(whole[frame + 40])) <= 8);
    const auto moments = file.moments(shot.id);
    REQUIRE(moments.size() == 2);
    CHECK(moments[0].frame == 20);
    const Film film = file.films(shot.game_id).front();
    CHECK(std::filesystem::equivalent(film_path(file, film), season.clip()));
    // The fit was clicked on frame 20, before the clip: it holds from the clip's first frame on.
    const auto fits = file.rink_fits(film.id);
    REQUIRE(fits.size() == 1);
    CHECK(fits[0].frame == 0);
    CHECK(fits[0].id == moments[0].rink_fit_id);
    CHECK(fits[0].landmarks.empty());
    // The clock showed 11:40 at frame 0 and ran: 40 frames later 1.33 s less.
    const auto marks = file.clock_marks(film.id);
    REQUIRE(marks.size() == 1);
    CHECK(marks[0].frame == 0);
    CHECK(marks[0].clock_s == doctest::Approx(700.0 - 40.0 / 30.0));
}

TEST_CASE("without its film a shot is extracted without a clip, and it is said") {
    TwoGoalies season;
    std::filesystem::remove(season.folder / "Quenby Halloran.mp4");
    const ExtractReport report = season.extract();
    CHECK(report.clips == 0);
    CHECK(std::ranges::any_of(
        report.told, [](const std::string& line) { return line.find("no clip") != std::string::npos; }));
    CHECK(value(season.into, "SELECT count(*) || ' ' || count(film_id) FROM shot") == "1 0");
    CHECK(value(season.into, "SELECT count(depth_m) FROM moment") == "2");
}

TEST_CASE("nothing is overwritten by an extract, and nothing is left of one that failed") {
    TwoGoalies season;
    season.extract();
    const auto entries = [&] {
        return std::distance(std::filesystem::directory_iterator{season.folder.path}, {});
    };
    const auto before = entries();
    CHECK(refusal_of([&] { season.extract(); }).fault == SeasonFault::exists);
    std::filesystem::remove(season.into);
    CHECK(refusal_of([&] { season.extract(); }).fault == SeasonFault::exists);
    CHECK(entries() == before - 1);
}

TEST_CASE("run-up and end give way before the plays of others, and plays that meet share a clip") {
    const auto spans = [](std::vector<PlayFrames> own, const std::vector<FrameSpan>& others) {
        return clip_spans(std::move(own), others, 10);
    };
    using Spans = std::vector<FrameSpan>;
    CHECK(spans({{{100, 110}, {40, 150}}}, {}) == Spans{{40, 150}});
    CHECK(spans({{{100, 110}, {40, 150}}}, {{50, 60}, {130, 130}}) == Spans{{70, 120}});
    CHECK(spans({{{100, 110}, {40, 150}}}, {{95, 98}}) == Spans{{100, 150}}); // never into the play itself
    CHECK(spans({{{100, 110}, {40, 150}}, {{160, 165}, {120, 200}}}, {}) == Spans{{40, 200}});
    CHECK(spans({{{300, 310}, {240, 350}}, {{100, 110}, {40, 150}}}, {}) == Spans{{40, 150}, {240, 350}});
}

TEST_CASE("a text names another goalie by any word of the name, but not by one that both have") {
    const OtherNames others{{"Quenby Halloran", "Ola Tamm"}, "Ilse Tamm"};
    CHECK(others.named_in("as QUENBY does"));
    CHECK(others.named_in("halloran's way"));
    CHECK(others.named_in("like Ola"));
    CHECK_FALSE(others.named_in("Tamm, again"));
    CHECK(others.named_in("the Hallorans"));
    CHECK_FALSE(others.named_in("solar")); // three letters count only by themselves
    CHECK_FALSE(others.named_in(""));
    const OtherNames swedish{{"Åsa Örnberg"}, "Ilse Tamm"};
    CHECK(swedish.named_in("as åsa does"));
    CHECK(swedish.named_in("like Asa ÖRNBERG"));
    CHECK(swedish.named_in("O\u0308rnberg")); // the dots as a letter of their own
}

} // namespace ropeline
