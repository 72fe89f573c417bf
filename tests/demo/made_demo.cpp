#include "demo/made_demo.h"

#include "short_demo.h"

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

nlohmann::json truth_of(const std::string& film_stem) {
    std::ifstream in(test::short_demo() / (film_stem + ".truth.json"));
    return nlohmann::json::parse(in);
}

} // namespace ropeline::demo
