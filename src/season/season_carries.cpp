// What only saves time and can be made again: where fits were carried to, the frame indexes of films, what lies where
// along them.
#include "season/season_insides.h"

#include <algorithm>
#include <iterator>
#include <span>

namespace ropeline {

void SeasonFile::put(const StoredCarry& carry) {
    const std::vector<std::byte>& bytes = carry.frames.bytes();
    change("carry", [&] {
        SQLite::Statement statement{
            *insides_->db,
            "INSERT OR REPLACE INTO carry (rink_fit_id, first_frame, frames) VALUES (?, ?, ?)"};
        statement.bind(1, carry.rink_fit_id);
        statement.bind(2, carry.first_frame);
        statement.bind(3, bytes.data(), static_cast<int>(bytes.size()));
        statement.exec();
    });
}

namespace {

std::span<const std::byte> bytes_in(const SQLite::Column& blob) {
    return {static_cast<const std::byte*>(blob.getBlob()), static_cast<std::size_t>(blob.getBytes())};
}

} // namespace

std::vector<StoredCarry> SeasonFile::carries_of(const StoredFit& key) const {
    return insides_->read([&](SQLite::Database& db) {
        auto found = ask(
            db, "SELECT first_frame, frames FROM carry WHERE rink_fit_id = ? ORDER BY first_frame", {key.id});
        std::vector<StoredCarry> stretches;
        while (found.executeStep()) {
            auto frames = CarriedFrames::from_bytes(bytes_in(found.getColumn(1)), key.fit);
            if (frames) stretches.push_back({key.id, found.getColumn(0).getInt64(), std::move(*frames)});
        }
        return stretches;
    });
}

std::optional<StoredCarry> SeasonFile::carry_at(const StoredFit& key, std::int64_t frame) const {
    return insides_->read([&](SQLite::Database& db) -> std::optional<StoredCarry> {
        auto found =
            ask(db,
                "SELECT substr(frames, 1, ?), substr(frames, 1 + ? + ? * (? - first_frame), ?) "
                "FROM carry WHERE rink_fit_id = ? AND first_frame <= ? ORDER BY first_frame DESC LIMIT 1",
                {CarriedFrames::head_bytes, CarriedFrames::head_bytes, CarriedFrames::frame_bytes, frame,
                 CarriedFrames::frame_bytes, key.id, frame});
        if (!found.executeStep()) return std::nullopt;
        std::vector<std::byte> bytes;
        for (const int part : {0, 1})
            std::ranges::copy(bytes_in(found.getColumn(part)), std::back_inserter(bytes));
        auto frames = CarriedFrames::from_bytes(bytes, key.fit);
        if (!frames || frames->empty()) return std::nullopt;
        return StoredCarry{key.id, frame, std::move(*frames)};
    });
}

void SeasonFile::forget_stretch(const StoredCarry& carry) {
    change("carry", [&] {
        ask(*insides_->db, "DELETE FROM carry WHERE rink_fit_id = ? AND first_frame = ?",
            {carry.rink_fit_id, carry.first_frame})
            .exec();
    });
}

void SeasonFile::forget_carry(const Id& rink_fit_id) {
    change("carry",
           [&] { ask(*insides_->db, "DELETE FROM carry WHERE rink_fit_id = ?", {rink_fit_id}).exec(); });
}

void SeasonFile::put(const StoredFilmIndex& index) {
    change("film index", [&] {
        SQLite::Statement statement{
            *insides_->db, "INSERT OR REPLACE INTO film_index (film_id, fingerprint, library, frames) "
                           "VALUES (?, ?, ?, ?)"};
        statement.bind(1, index.film_id);
        statement.bind(2, index.fingerprint);
        statement.bind(3, index.library);
        statement.bind(4, index.frames.data(), static_cast<int>(index.frames.size()));
        statement.exec();
    });
}

std::optional<StoredFilmIndex> SeasonFile::film_index(const Id& film_id) const {
    return insides_->read([&](SQLite::Database& db) -> std::optional<StoredFilmIndex> {
        auto found =
            ask(db, "SELECT fingerprint, library, frames FROM film_index WHERE film_id = ?", {film_id});
        if (!found.executeStep()) return std::nullopt;
        const auto bytes = bytes_in(found.getColumn(2));
        return StoredFilmIndex{film_id,
                               found.getColumn(0).getString(),
                               found.getColumn(1).getString(),
                               {bytes.begin(), bytes.end()}};
    });
}

void SeasonFile::put(const StoredFilmMarks& marks) {
    change("film marks", [&] {
        SQLite::Statement statement{
            *insides_->db,
            "INSERT OR REPLACE INTO film_marks (film_id, fingerprint, marks) VALUES (?, ?, ?)"};
        statement.bind(1, marks.film_id);
        statement.bind(2, marks.fingerprint);
        statement.bind(3, marks.marks.data(), static_cast<int>(marks.marks.size()));
        statement.exec();
    });
}

std::optional<StoredFilmMarks> SeasonFile::film_marks(const Id& film_id) const {
    return insides_->read([&](SQLite::Database& db) -> std::optional<StoredFilmMarks> {
        auto found = ask(db, "SELECT fingerprint, marks FROM film_marks WHERE film_id = ?", {film_id});
        if (!found.executeStep()) return std::nullopt;
        const auto bytes = bytes_in(found.getColumn(1));
        return StoredFilmMarks{film_id, found.getColumn(0).getString(), {bytes.begin(), bytes.end()}};
    });
}

} // namespace ropeline
