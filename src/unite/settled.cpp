#include "unite/settled.h"

#include "unite/choose.h"

#include <array>

namespace ropeline {
namespace {

constexpr unsigned as_mine = 1, as_theirs = 2, as_both = 3;

class AsInFile {
public:
    AsInFile(const FileRecords& mine, const FileRecords& theirs, const std::unordered_map<Id, Whose>& kept)
        : files_{&mine, &theirs}, kept_(kept) {
        for (std::size_t i = 0; i < files_.size(); ++i)
            for (const auto& [id, record] : files_[i]->records)
                if (is_of_either(id, &record))
                    note(id, record, i == 0 || !is_of_either(id, files_[0]->find(id)));
    }

    /// In which files the shot and all that its figures rest on is as it is kept.
    unsigned of_shot(const Id& id, const FileRecord& shot) {
        unsigned as = season_ & of(id);
        for (const Id& need : shot.needs)
            as &= of(need);
        const auto moments = moments_.find(id);
        if (moments == moments_.end()) return as;
        for (const Id& moment : moments->second) {
            as &= of(moment);
            for (const FileRecords* file : files_)
                if (const FileRecord* record = file->find_there(moment))
                    for (const Id& need : record->needs)
                        as &= of_fits(need);
        }
        return as;
    }

private:
    /// What both removed may come back all the same.
    bool is_of_either(const Id& id, const FileRecord* record) const {
        return record && (!record->removed || kept_.contains(id));
    }

    void note(const Id& id, const FileRecord& record, bool is_first) {
        if (record.kind == RecordKind::season) season_ &= of(id);
        if (!is_first || record.needs.empty()) return;
        if (record.kind == RecordKind::moment) moments_[record.needs.front()].push_back(id);
        if (record.kind == RecordKind::rink_fit && !record.follows) fits_[record.needs.front()].push_back(id);
    }

    unsigned of(const Id& id) const {
        const auto whose = kept_.find(id);
        if (whose == kept_.end())
            return (files_[0]->find_there(id) ? 0 : as_mine) | (files_[1]->find_there(id) ? 0 : as_theirs);
        const std::uint64_t figures = files_[whose->second == Whose::mine ? 0 : 1]->find(id)->figures;
        const auto same = [&](const FileRecord* record) { return record && record->figures == figures; };
        return (same(files_[0]->find_there(id)) ? as_mine : 0) |
               (same(files_[1]->find_there(id)) ? as_theirs : 0);
    }

    unsigned of_fits(const Id& film_id) {
        const auto fits = fits_.find(film_id);
        if (fits == fits_.end()) return as_both;
        const auto [known, is_new] = films_.try_emplace(film_id, as_both);
        if (is_new)
            for (const Id& fit : fits->second)
                known->second &= of(fit);
        return known->second;
    }

    std::array<const FileRecords*, 2> files_;
    const std::unordered_map<Id, Whose>& kept_;
    std::unordered_map<Id, std::vector<Id>> moments_, fits_; ///< by shot; by film
    std::unordered_map<Id, unsigned> films_;
    unsigned season_ = as_both;
};

} // namespace

std::unordered_map<Id, std::optional<Whose>> settled_figures(const FileRecords& mine,
                                                             const FileRecords& theirs,
                                                             const std::unordered_map<Id, Whose>& kept) {
    std::unordered_map<Id, std::optional<Whose>> settled;
    AsInFile as_in_file{mine, theirs, kept};
    for (const auto& [id, whose] : kept) {
        const FileRecord& record = *(whose == Whose::mine ? mine : theirs).find(id);
        if (record.kind != RecordKind::shot) continue;
        const unsigned as = as_in_file.of_shot(id, record);
        if (as == as_both)
            settled.emplace(id, std::nullopt);
        else if (as != 0)
            settled.emplace(id, as == as_mine ? Whose::mine : Whose::theirs);
    }
    return settled;
}

} // namespace ropeline
