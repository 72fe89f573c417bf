#include "season/season_insides.h"

namespace ropeline {

SeasonFile::SeasonFile(std::unique_ptr<Insides> insides) : insides_(std::move(insides)) {}
SeasonFile::~SeasonFile() = default;
SeasonFile::SeasonFile(SeasonFile&&) noexcept = default;
SeasonFile& SeasonFile::operator=(SeasonFile&&) noexcept = default;

const std::filesystem::path& SeasonFile::path() const {
    return insides_->path;
}

const std::vector<std::string>& SeasonFile::set_aside() const {
    return insides_->set_aside;
}

std::filesystem::path film_path(const SeasonFile& file, const Film& film) {
    return (file.path().parent_path() / film.path).lexically_normal();
}

std::string film_path_to_store(const SeasonFile& file, const std::filesystem::path& film) {
    std::error_code unreachable;
    const auto folder = std::filesystem::weakly_canonical(film.parent_path(), unreachable);
    if (unreachable) return film.string();
    const auto inside = (folder / film.filename()).lexically_relative(file.path().parent_path());
    return inside.empty() || *inside.begin() == ".." ? film.string() : inside.string();
}

} // namespace ropeline
