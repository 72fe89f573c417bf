// Fitting the rink on a frame, and keeping where a fit was carried to.
#pragma once

#include "desk/state/actions.h"
#include "desk/state/log_context.h"

namespace ropeline {

void handle(LogContext& log, const BeginFit& begin);
void handle(LogContext& log, const OfferLandmark& offer);
void handle(LogContext& log, const OfferOther& other);
void handle(LogContext& log, const DragClick& drag);
void handle(LogContext& log, const RemoveClick& remove);
void handle(LogContext& log, const OfferFit& offer);
void handle(LogContext& log, const TakeProposal&);
void handle(LogContext& log, const ShowFit& show);
void handle(LogContext& log, const SwapSides&);
void handle(LogContext& log, const KeepFit& keep);
void handle(LogContext& log, const KeepCarry& keep);

/// A click on the film while the rink is being fitted.
void click_landmark(LogContext& log, ImagePoint at);

} // namespace ropeline
