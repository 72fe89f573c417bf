// Who logged a shot, who overruled a verdict, who changed a record, and when.
#include "season/sample.h"

#include <doctest/doctest.h>

namespace ropeline {
namespace {

using sample::Folder;

struct Log {
    Folder folder;
    std::filesystem::path path = folder / "a.season";
    SeasonFile file = SeasonFile::create(path, sample::season());
    sample::Ids ids = sample::fill(file);

    void sit(const std::string& reviewer) {
        Season season = file.season();
        season.reviewer = reviewer;
        file.put(season);
    }
    Shot shot() { return file.shots(ids.game).front(); }
    Moment moment() { return file.moments(shot().id).front(); }
    std::string stamp(const Id& id) {
        return sample::value(
            path,
            "SELECT count(*) || ' ' || ifnull(max(changed_by), '') FROM record_change WHERE record_id = '" +
                id + "'");
    }
};

} // namespace

TEST_CASE("a shot knows when it was logged, and keeps it when it is changed") {
    Log log;
    Shot shot = sample::shot(log.ids, 40);
    shot.tagged_by = "Ruth";
    log.file.put(shot);
    CHECK(shot.tagged_at.size() == 20);
    const std::string first = "2026-01-02T03:04:05Z";
    shot.tagged_at = first;
    log.file.put(shot);
    shot.outcome = Outcome::goal;
    shot.tagged_at.clear();
    log.file.put(shot);
    CHECK(log.shot().tagged_at == first);
    shot.tagged_by = "Milo"; // placed on the film by somebody else
    log.file.put(shot);
    CHECK(log.shot().tagged_at != first);
}

TEST_CASE("an overruling knows whose it is and when it was made; one that is taken back, undone and brought "
          "back too") {
    Log log;
    log.sit("Ruth");
    Shot shot = sample::shot(log.ids, 40);
    log.file.put(shot);
    Moment moment = sample::moment(shot.id, log.ids);
    log.file.put(moment);
    CHECK(moment.overruled_by.empty());
    CHECK(moment.overruled_at.empty());
    moment.overruled = Verdict::sat_back;
    moment.overrule_reason = "he was screened";
    log.file.put(moment);
    CHECK(log.moment().overruled_by == "Ruth");
    CHECK(log.moment().overruled_at.size() == 20);
    log.sit("Milo");
    moment.kind = MomentKind::pass; // another change of the moment is none of the overruling
    log.file.put(moment);
    CHECK(log.moment().overruled_by == "Ruth");
    moment.overrule_reason = "on his knees";
    log.file.put(moment);
    CHECK(log.moment().overruled_by == "Milo");
    log.file.undo();
    CHECK(log.moment().overruled_by == "Ruth");
    log.file.redo();
    CHECK(log.moment().overruled_by == "Milo");
    moment.overruled.reset();
    log.file.put(moment);
    CHECK(log.moment().overruled_by.empty());
    CHECK(log.moment().overruled_at.empty());
}

TEST_CASE("a record knows who changed it last in each sitting, its marks and tags counted as its own") {
    Log log;
    log.sit("Ruth");
    Shot shot = sample::shot(log.ids, 40);
    log.file.put(shot);
    Moment moment = sample::moment(shot.id, log.ids);
    log.file.put(moment);
    CHECK(log.stamp(shot.id) == "1 Ruth");
    CHECK(log.stamp(moment.id) == "1 Ruth");
    log.file = SeasonFile::open_to_read(log.path); // lets go of the file
    log.file = SeasonFile::open(log.path);
    log.sit("Milo");
    shot.tags = {"late"};
    log.file.put(shot);
    moment.marks[0].ice = IcePoint{0.2, 1.4};
    log.file.put(moment);
    CHECK(log.stamp(shot.id).starts_with("2 "));
    CHECK(log.stamp(moment.id).starts_with("2 "));
    log.file.put(moment); // nothing new: no change
    CHECK(log.stamp(moment.id).starts_with("2 "));
    log.file.remove_shot(shot.id);
    CHECK(log.stamp(shot.id).starts_with(
        "2 ")); // stays, so that a copy of the file is known to have an older state
}

TEST_CASE("who sits at the desk and where a film lies is no change of the season or the film") {
    Log log;
    const auto stamps = [&] {
        return sample::value(log.path, "SELECT group_concat(changed_at) FROM record_change");
    };
    const std::string before = stamps();
    log.sit("Ruth");
    Film film = log.file.films(log.ids.game).front();
    film.path = "elsewhere.mp4";
    log.file.put(film);
    CHECK(stamps() == before);
}

TEST_CASE("a change after one by a clock that is ahead counts as the later one") {
    Log log;
    Shot shot = sample::shot(log.ids, 40);
    log.file.put(shot);
    log.file = SeasonFile::open_to_read(log.path);
    sample::run(
        log.path,
        "UPDATE record_change SET changed_at = '2099-01-01T00:00:00.000Z', sitting = 7 WHERE record_id = '" +
            shot.id + "'");
    log.file = SeasonFile::open(log.path);
    shot.outcome = Outcome::goal;
    log.file.put(shot);
    CHECK(
        sample::value(log.path, "SELECT changed_at FROM record_change WHERE sitting <> 7 AND record_id = '" +
                                    shot.id + "'") == "2099-01-01T00:00:00.001Z");
}

} // namespace ropeline
