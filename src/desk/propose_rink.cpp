#include "desk/propose_rink.h"

#include <utility>

namespace ropeline {
namespace {

/// What the proposer has to say, told or offered.
void take_proposal(App& app, const FitDraft* draft) {
    Proposal& proposal = app.stage.proposal;
    std::optional<RinkFit> fit;
    try {
        fit = proposal.work->take();
    } catch (const std::exception& error) {
        tell_trouble(app, error);
    }
    proposal.work.reset();
    if (fit && draft && draft->frame == proposal.frame)
        app.log.book->apply(OfferFit{draft->frame, std::move(*fit)}, frame_at(app.stage));
}

} // namespace

void propose_rink(App& app) {
    const FitDraft* draft = app.log.state().selection.fit();
    Proposal& proposal = app.stage.proposal;
    if (proposal.work) {
        if (!draft || draft->frame != proposal.frame) proposal.work->stop();
        if (proposal.work->finished()) take_proposal(app, draft);
        return;
    }
    if (!draft) return proposal.frame.reset();
    if (draft->fit || !draft->clicks.empty() || proposal.frame == draft->frame) return;
    const PicturePtr picture = app.stage.film->cached(FrameIndex{draft->frame});
    if (!picture) return;
    proposal.frame = draft->frame;
    proposal.work = std::make_unique<FitProposer>(picture, *app.stage.film->facts(), draft->rules);
}

} // namespace ropeline
