#include "demo/made_demo.h"

#include "demo/demo.h"

#include <fstream>
#include <unistd.h>

namespace ropeline::demo {
namespace {

namespace fs = std::filesystem;

struct Folder {
    fs::path path = fs::temp_directory_path() / ("ropeline-demo-test-" + std::to_string(getpid()));
    Folder() { fs::create_directories(path); }
    ~Folder() {
        std::error_code ignored;
        fs::remove_all(path, ignored);
    }
};

} // namespace

fs::path own_folder(const std::string& name) {
    static const Folder all;
    fs::create_directories(all.path / name);
    return all.path / name;
}

const fs::path& made_demo() {
    static const fs::path folder = [] {
        const fs::path place = own_folder("made");
        write_demo(place, {.seed = 1, .brief = true}, [](const std::string&, int) {});
        return place;
    }();
    return folder;
}

nlohmann::json truth_of(const std::string& film_stem) {
    std::ifstream in(made_demo() / (film_stem + ".truth.json"));
    return nlohmann::json::parse(in);
}

} // namespace ropeline::demo
