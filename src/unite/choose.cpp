#include "unite/choose.h"

#include "unite/settled.h"
#include "unite/standing.h"

#include <algorithm>
#include <array>

namespace ropeline {
namespace {

class Choosing {
public:
    Choosing(const FileRecords& mine, const FileRecords& theirs) : files_{&mine, &theirs} {}

    void look_at(const Id& id, const std::map<Id, Whose>& decided) {
        const FileRecord* mine = files_[0]->find(id);
        const FileRecord* theirs = files_[1]->find(id);
        const Whose whose = !theirs ? Whose::mine
                            : !mine ? Whose::theirs
                                    : whose_of(id, *mine, *theirs, decided);
        from_.emplace(id, whose);
        known_.emplace(id, KnownRecord{whose == Whose::mine ? mine : theirs,
                                       removal_of(files_[0]->stamps_of(id), files_[1]->stamps_of(id))});
    }

    Chosen take() {
        const Standing now = standing(known_);
        for (const auto& [id, whose] : from_) {
            const bool stands = now.there.contains(id);
            (stands ? chosen_.kept : chosen_.removed_rows).emplace(id, whose);
            count(id, stands);
        }
        std::ranges::sort(chosen_.kept_although_removed);
        for (const Id& id : now.needed)
            if (!files_[0]->find_there(id) || !files_[1]->find_there(id))
                chosen_.kept_as_needed.push_back(id);
        return std::move(chosen_);
    }

private:
    const FileRecords& file(Whose whose) const { return *files_[whose == Whose::mine ? 0 : 1]; }

    Whose whose_of(const Id& id, const FileRecord& mine, const FileRecord& theirs,
                   const std::map<Id, Whose>& decided) const {
        if (const auto found = decided.find(id); found != decided.end()) return found->second;
        const ChangeOrder order = order_of(files_[0]->stamps_of(id), files_[1]->stamps_of(id));
        if (order == ChangeOrder::after) return Whose::mine;
        if (order == ChangeOrder::before) return Whose::theirs;
        // Alike, they may still differ in the ids of tags and marks: the newer one's, whoever comes first. So it is for
        // what nobody was asked about, as it is gone.
        if (const auto newer = newer_of(*files_[0], *files_[1], id)) return *newer;
        if (mine.content != theirs.content)
            return mine.content < theirs.content ? Whose::mine : Whose::theirs;
        return mine.removed && !theirs.removed ? Whose::theirs : Whose::mine;
    }

    void count(const Id& id, bool stands) {
        const FileRecord* mine = files_[0]->find_there(id);
        const FileRecord* theirs = files_[1]->find_there(id);
        if ((mine ? mine : theirs) && (mine ? mine : theirs)->follows) return;
        const bool only_one = (mine != nullptr) != (theirs != nullptr);
        const bool known_to_both = !files_[0]->stamps_of(id).empty() && !files_[1]->stamps_of(id).empty();
        if (!stands) {
            chosen_.removed += mine != nullptr;
        } else if (only_one && known_to_both && !known_.at(id).removal.all) {
            chosen_.kept_although_removed.push_back(id);
        } else if (only_one && theirs && files_[0]->stamps_of(id).empty()) {
            ++chosen_.brought;
        } else if (mine && theirs && mine->content != theirs->content) {
            chosen_.changed +=
                order_of(files_[0]->stamps_of(id), files_[1]->stamps_of(id)) == ChangeOrder::before;
        }
    }

    std::array<const FileRecords*, 2> files_;
    std::unordered_map<Id, Whose> from_;
    KnownRecords known_;
    Chosen chosen_;
};

} // namespace

std::vector<Id> changed_on_both(const FileRecords& mine, const FileRecords& theirs) {
    std::vector<Id> both;
    for (const auto& [id, record] : mine.records) {
        const FileRecord* other = theirs.find(id);
        if (!other || other->content == record.content) continue;
        const auto& my_stamps = mine.stamps_of(id);
        const auto& their_stamps = theirs.stamps_of(id);
        const ChangeOrder order = order_of(my_stamps, their_stamps);
        if (order == ChangeOrder::after || order == ChangeOrder::before) continue;
        const bool is_gone = (record.removed || other->removed) && removal_of(my_stamps, their_stamps).all;
        if (!is_gone) both.push_back(id);
    }
    std::ranges::sort(both);
    return both;
}

std::optional<Whose> newer_of(const FileRecords& mine, const FileRecords& theirs, const Id& id) {
    const RecordStamp* my_last = last_of(mine.stamps_of(id));
    const RecordStamp* their_last = last_of(theirs.stamps_of(id));
    if (!my_last && !their_last) return std::nullopt;
    if (!my_last || !their_last) return my_last ? Whose::mine : Whose::theirs;
    const auto when = [](const RecordStamp& stamp) { return std::tie(stamp.at, stamp.sitting); };
    if (when(*my_last) == when(*their_last)) return std::nullopt;
    return when(*my_last) < when(*their_last) ? Whose::theirs : Whose::mine;
}

Chosen choose(const FileRecords& mine, const FileRecords& theirs, const std::map<Id, Whose>& decided) {
    Choosing choosing{mine, theirs};
    for (const auto& [id, record] : mine.records)
        choosing.look_at(id, decided);
    for (const auto& [id, record] : theirs.records)
        if (!mine.find(id)) choosing.look_at(id, decided);
    Chosen chosen = choosing.take();
    chosen.figures = settled_figures(mine, theirs, chosen.kept);
    return chosen;
}

} // namespace ropeline
