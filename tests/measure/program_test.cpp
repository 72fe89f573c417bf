// The built program as a shell calls it: exit status, one line on stderr, nothing on stdout when it fails.
#include <doctest/doctest.h>

#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>
#include <sys/wait.h>
#include <unistd.h>

namespace {

struct Outcome {
    int status = -1;
    std::string out, err;
};

std::string read(const std::filesystem::path& path) {
    std::ifstream file(path);
    std::stringstream text;
    text << file.rdbuf();
    return text.str();
}

Outcome run_by(const std::string& program, const std::string& arguments, const std::string& input = "") {
    const std::filesystem::path folder =
        std::filesystem::temp_directory_path() / ("measure_" + std::to_string(getpid()));
    std::filesystem::create_directories(folder);
    std::ofstream(folder / "in") << input;
    const std::string command = program + " " + arguments + " <" + (folder / "in").string() + " >" +
                                (folder / "out").string() + " 2>" + (folder / "err").string();
    const int code = std::system(command.c_str());
    const Outcome outcome{WEXITSTATUS(code), read(folder / "out"), read(folder / "err")};
    std::filesystem::remove_all(folder);
    return outcome;
}

Outcome run(const std::string& arguments, const std::string& input = "") {
    return run_by(ROPELINE_PROGRAM, arguments, input);
}

bool one_line(const std::string& text) {
    return !text.empty() && text.find('\n') == text.size() - 1;
}

void check_failure(const Outcome& outcome, int status, const std::string& words) {
    CHECK(outcome.status == status);
    CHECK(outcome.out.empty());
    CHECK(one_line(outcome.err));
    CHECK_MESSAGE(outcome.err.find(words) != std::string::npos, outcome.err);
}

} // namespace

TEST_CASE("measure answers a moment on the ice") {
    const Outcome outcome =
        run("measure", R"({"ice": true, "moments": [{"puck": [0, 9], "goalie": [0, 1.5]}]})");
    CHECK(outcome.status == 0);
    CHECK(outcome.err.empty());
    CHECK(outcome.out.find("\"depth_m\": 1.5") != std::string::npos);
}

TEST_CASE("measure: a wrong call is 2, clicks that carry no fit are 1") {
    check_failure(run("measure", "{"), 2, "the request is not JSON");
    check_failure(run("measure", R"({"image": [8, 8], "colour": 1})"), 2, "unknown key \"colour\"");
    check_failure(
        run("measure", R"({"image": [1280, 720], "landmarks": [{"at": [1, 2], "name": "left_post"}]})"), 1,
        "1 landmark is clicked; a rink fit needs four");
    check_failure(run("measure --fast"), 2, "--fast");
}

TEST_CASE("measure starts without the libraries for film, window and pictures") {
    // The dynamic loader lists what it would load, as ldd does (ld.so(8)).
    const std::filesystem::path list =
        std::filesystem::temp_directory_path() / ("loaded_" + std::to_string(getpid()));
    const std::string command = "LD_TRACE_LOADED_OBJECTS=1 " ROPELINE_PROGRAM " measure >" + list.string();
    REQUIRE(std::system(command.c_str()) == 0);
    const std::string loaded = read(list);
    std::filesystem::remove(list);
    CHECK(loaded.find("libc.so") != std::string::npos);
    for (const char* heavy : {"libav", "libSDL", "libGL", "libopencv", "libsqlite"}) {
        CAPTURE(loaded);
        CHECK(loaded.find(heavy) == std::string::npos);
    }
}

TEST_CASE("the rest of the program is started from beside the first, or missed in one line") {
    const Outcome help = run("--help");
    CHECK(help.status == 0);
    for (const char* verb : {"open", "film", "measure", "carry", "summary", "check", "demo"})
        CHECK(help.out.find(verb) != std::string::npos);
    const std::filesystem::path folder =
        std::filesystem::temp_directory_path() / ("alone_" + std::to_string(getpid()));
    std::filesystem::create_directories(folder);
    std::filesystem::copy_file(ROPELINE_PROGRAM, folder / "ropeline");
    check_failure(run_by((folder / "ropeline").string(), "--help"), 1, "its programs belong in one folder");
    CHECK(run_by((folder / "ropeline").string(), "measure",
                 R"({"ice": true, "moments": [{"puck": [0, 9], "goalie": [0, 1.5]}]})")
              .status == 0);
    std::filesystem::remove_all(folder);
}

TEST_CASE("carry: what is wrong with the call") {
    check_failure(run("carry"), 2, "clip");
    check_failure(run("carry /nowhere.mp4 --fit /nowhere.json"), 2, "cannot read the fit /nowhere.json");
    const std::filesystem::path fit =
        std::filesystem::temp_directory_path() / ("fit_" + std::to_string(getpid()) + ".json");
    std::ofstream(fit) << R"({"image": [1280, 720], "landmarks": []})";
    check_failure(run("carry /nowhere.mp4 --fit " + fit.string()), 2, "lacks \"frame\"");
    std::ofstream(fit) << R"({"frame": 3, "image": [1280, 720], "landmarks": []})";
    check_failure(run("carry /nowhere.mp4 --fit " + fit.string()), 1, "0 landmarks are clicked");
    std::filesystem::remove(fit);
}
