// A folder that goes away, and a small season in an invented league.
#pragma once

#include "season/season_file.h"

#include <SQLiteCpp/Database.h>
#include <SQLiteCpp/Statement.h>

#include <cstdlib>
#include <filesystem>
#include <functional>
#include <optional>
#include <string>

namespace ropeline::sample {

/// Under the sanitizers every statement takes many times as long, and what they look for shows in a fourth of the rounds.
/// Not so in a long run.
#if defined(__SANITIZE_ADDRESS__) || defined(__SANITIZE_THREAD__)
inline const int fewer = std::getenv("ROPELINE_LONG_TESTS") ? 1 : 4;
#else
inline constexpr int fewer = 1;
#endif

class Folder {
public:
    Folder();
    ~Folder();
    Folder(const Folder&) = delete;
    Folder& operator=(const Folder&) = delete;
    std::filesystem::path operator/(const std::string& name) const { return path / name; }
    std::filesystem::path path;
};

Season season(const std::string& name = "Winter");

struct Ids {
    Id team, goalie, game, film, fit;
};

/// A team, a goalie, a game, a film and a fit.
Ids fill(SeasonFile& file);

StoredFit fit(const Id& film_id);
Shot shot(const Ids& ids, std::int64_t frame, Outcome outcome = Outcome::save_held);
Moment moment(const Id& shot_id, const Ids& ids, double goalie_y_m = 1.2);

/// Every row of every table a coach's work is in, in a fixed order; the undo log left out.
std::string dump(const std::filesystem::path& season);
std::string dump(SQLite::Database& season); ///< through a connection that is open already

/// One value through a connection of its own.
std::string value(const std::filesystem::path& season, const std::string& sql);
void run(const std::filesystem::path& season, const std::string& sql);

/// The fault and the text of what `open` throws.
struct Refusal {
    SeasonFault fault{};
    std::string text;
};
Refusal refusal_of(const std::function<void()>& body);

/// What became of a body that ran in a process of its own.
struct ChildEnd {
    bool prepared = false;            ///< `prepare` said yes
    std::optional<SeasonFault> fault; ///< none: it went through
    bool other = false;               ///< something else was thrown, or the process died
};

/// Forks, prepares (a limit, another user, a small disk), runs the body.
ChildEnd run_apart(const std::function<bool()>& prepare, const std::function<void()>& body);

} // namespace ropeline::sample
