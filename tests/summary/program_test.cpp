// The verbs summary and check as a coach calls them.
#include "season/printed.h"

#include <doctest/doctest.h>

#include <algorithm>
#include <cstdlib>
#include <fstream>

namespace ropeline {
namespace {

using sample::bytes_of;
using sample::Folder;
using sample::is_one_line;
using sample::Printed;
using sample::ropeline;

void make(const std::filesystem::path& path) {
    SeasonFile file = SeasonFile::create(path, sample::season("Winter 2026"));
    const sample::Ids ids = sample::fill(file);
    for (int i = 0; i < 20; ++i) {
        Shot shot = sample::shot(ids, i, i < 3 ? Outcome::goal : Outcome::save_held);
        file.put(shot);
        Moment moment = sample::moment(shot.id, ids);
        file.put(moment);
    }
}

} // namespace

TEST_CASE("ropeline summary prints the table, JSON, or writes the CSV files") {
    const Folder folder;
    make(folder / "a.season");
    const Printed text = ropeline(folder, "summary a.season");
    CHECK(text.status == 0);
    CHECK(text.err.empty());
    CHECK(text.out.find("Ilse Tamm, Saltmarsh Herons") != std::string::npos);
    CHECK(text.out.find("  total              20      20        20       3     .850   .640 to .948\n") !=
          std::string::npos); // R: prop.test(17, 20, correct = FALSE) gives 0.6396 0.9476
    CHECK(ropeline(folder, "summary a.season --json").out.find("\"save_percentage\": 0.85") !=
          std::string::npos);
    const Printed csv = ropeline(folder, "summary a.season --csv sheets");
    CHECK(csv.status == 0);
    const std::string shots = bytes_of(folder / "sheets/shots.csv");
    CHECK(std::count(shots.begin(), shots.end(), '\n') == 21);
    CHECK(bytes_of(folder / "sheets/bands.csv").find(",total,20,20,20,17,3,0.85,") != std::string::npos);
}

TEST_CASE("ropeline summary filters, lays seasons together, writes a page, compares two reviews") {
    const Folder folder;
    make(folder / "a.season");
    CHECK(ropeline(folder, "summary a.season a.season").out.find(": 20 logged in 1 game") !=
          std::string::npos);
    CHECK(ropeline(folder, "summary a.season --goalie 'ilse tamm' --situation rush").status == 0);
    const Printed later = ropeline(folder, "summary a.season --from 2126-01-01");
    CHECK(later.out.find(", from 2126-01-01: 0 logged") != std::string::npos);
    CHECK(later.out.find("Nothing that is logged is of these.") != std::string::npos);
    CHECK(later.out.find("Nothing is logged yet") == std::string::npos);
    const Printed nobody = ropeline(folder, "summary a.season --goalie Nobody");
    CHECK(nobody.status == 2);
    CHECK(nobody.err.find("There are: Ilse Tamm.") != std::string::npos);
    for (const char* call : {"summary a.season --from yesterday", "summary a.season --situation x",
                             "summary a.season --bom", "summary a.season --json --against a.season"}) {
        CAPTURE(call);
        const Printed wrong = ropeline(folder, call);
        CHECK(wrong.status == 2);
        CHECK(is_one_line(wrong.err));
    }
    CHECK(ropeline(folder, "summary a.season --page a.html").status == 0);
    CHECK(bytes_of(folder / "a.html").starts_with("<!doctype html>"));
    CHECK(ropeline(folder, "summary a.season --csv sheets --bom").status == 0);
    CHECK(bytes_of(folder / "sheets/groups.csv")
              .starts_with("\xef\xbb\xbf"
                           "cut,group,"));
    CHECK(
        ropeline(folder, "summary a.season --against a.season").out.find("20 shots were reviewed by both") !=
        std::string::npos);
}

TEST_CASE("ropeline summary finds a goalie whatever the capitals, in any script") {
    const Folder folder;
    make(folder / "a.season");
    sample::run(folder / "a.season", "UPDATE goalie SET name = 'Žofie Ängström'");
    const Printed found = ropeline(folder, "summary a.season --goalie 'ŽOFIE ÄNGSTRÖM'");
    CHECK(found.status == 0);
    CHECK(found.out.find(": 20 logged in 1 game") != std::string::npos);
}

TEST_CASE("ropeline summary writes how far a second review agrees beside the other tables") {
    const Folder folder;
    make(folder / "a.season");
    const Printed csv = ropeline(folder, "summary a.season --against a.season --csv sheets");
    CHECK(csv.status == 0);
    CHECK(csv.out.find("agreement.csv") != std::string::npos);
    CHECK(bytes_of(folder / "sheets/agreement.csv").find("\r\noutcome,20,1,") != std::string::npos);
    const Printed charts = ropeline(folder, "summary a.season --charts pictures");
    CHECK(charts.status == 0);
    CHECK(is_one_line(charts.out));
    CHECK(bytes_of(folder / "pictures/shots_on_plan.png").starts_with("\x89PNG\r\n"));
    CHECK(bytes_of(folder / "pictures/shots_on_plan.svg").starts_with("<svg"));
    CHECK(ropeline(folder, "summary a.season --csv alone").status == 0);
    CHECK_FALSE(std::filesystem::exists(folder / "alone/agreement.csv"));
}

TEST_CASE("ropeline summary tells of a game that two files hold under different ids") {
    const Folder folder;
    make(folder / "a.season");
    make(folder / "b.season"); // made anew: every id is another
    const Printed both = ropeline(folder, "summary a.season b.season");
    CHECK(both.status == 0);
    CHECK(is_one_line(both.err));
    CHECK(both.err.find("the same game under different ids") != std::string::npos);
    CHECK(ropeline(folder, "summary a.season a.season").err.empty());
}

TEST_CASE("ropeline summary on what is no season: one line, status 1; a wrong call: status 2") {
    const Folder folder;
    std::ofstream{folder / "text.season"} << std::string(3000, 't');
    for (const char* call :
         {"summary none.season", "summary text.season", "summary .", "check --repair none.season"}) {
        CAPTURE(call);
        const Printed answer = ropeline(folder, call);
        CHECK(answer.status == 1);
        CHECK(answer.out.empty());
        CHECK(is_one_line(answer.err));
    }
    make(folder / "a.season");
    CHECK(ropeline(folder, "summary").status == 2);
    CHECK(ropeline(folder, "summary a.season --json --csv x").status == 2);
    std::ofstream{folder / "taken"} << "a file, not a folder";
    const Printed taken = ropeline(folder, "summary a.season --csv taken");
    CHECK(taken.status == 1);
    CHECK(is_one_line(taken.err));
}

TEST_CASE("ropeline check says what is wrong, and --repair goes back to the backup") {
    const Folder folder;
    make(folder / "a.season");
    const Printed missing = ropeline(folder, "check a.season");
    CHECK(missing.status == 1);
    CHECK(missing.out.find("trouble film: films/first.mp4 is missing") != std::string::npos);
    CHECK(is_one_line(missing.err));
    sample::run(folder / "a.season",
                "DELETE FROM film_index; UPDATE shot SET film_id = NULL; UPDATE moment SET film_id = NULL, "
                "rink_fit_id = NULL; PRAGMA foreign_keys = ON; DELETE FROM film");
    const Printed sound = ropeline(folder, "check a.season");
    CHECK(sound.status == 0);
    CHECK(sound.out.find("ok      file: sound") != std::string::npos);
    CHECK(sound.out.find("trouble") == std::string::npos);

    std::filesystem::resize_file(folder / "a.season", 5000);
    const Printed damaged = ropeline(folder, "check a.season");
    CHECK(damaged.status == 1);
    CHECK(damaged.out.find("ropeline check SEASON --repair") != std::string::npos);
    const Printed repaired = ropeline(folder, "check a.season --repair");
    CHECK(repaired.status == 0);
    CHECK(repaired.out.find("a.season.damaged") != std::string::npos);
    CHECK(ropeline(folder, "summary a.season").out.find("20 logged") != std::string::npos);
}

TEST_CASE("summary starts without the libraries for film, window and pictures, but for its charts") {
    const Folder folder;
    make(folder / "a.season");
    // The dynamic loader names each library that it loads (ld.so(8)).
    ::setenv("LD_DEBUG", "files", 1);
    ::setenv("LD_DEBUG_OUTPUT", (folder / "loaded").c_str(), 1);
    CHECK(ropeline(folder, "summary a.season").status == 0);
    ::unsetenv("LD_DEBUG");
    ::unsetenv("LD_DEBUG_OUTPUT");
    std::string loaded;
    for (const auto& entry : std::filesystem::directory_iterator{folder.path})
        if (entry.path().filename().string().starts_with("loaded")) loaded += bytes_of(entry.path());
    CHECK(loaded.find("libsqlite3") != std::string::npos);
    for (const char* heavy : {"libav", "libSDL", "libGL", "libopencv", "libcairo"})
        CHECK(loaded.find(heavy) == std::string::npos);
    CHECK(ropeline(folder, "summary a.season --charts charts").status == 0);
    CHECK(std::filesystem::exists(folder / "charts"));
}

} // namespace ropeline
