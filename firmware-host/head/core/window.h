/*
 * Tokens, the fire window and the ring of reports: PROTOCOL.md, "What the head does by itself",
 * 4 to 6. Knows nothing of pins: it says whether the gate supply may be let through.
 */
#ifndef LODESTEP_WINDOW_H
#define LODESTEP_WINDOW_H

#include <stdbool.h>
#include <stdint.h>

#include "frame.h"
#include "request.h"

/* What the window looks at in one millisecond. */
struct window_inputs {
  int64_t clock_ms;
  int32_t bank_mv;
  int32_t coil_ma; /* signed; positive drives the gauge's face north */
  bool permit_held;
  bool fire_high;
  bool fill_released;  /* mirror contact of the fill relay closed */
  bool bleed_open;     /* mirror contact of the bleed contact open */
  bool reverse_closed; /* mirror contact of the changeover relay */
};

struct window {
  struct pulse_report ring[RING_LENGTH];
  struct pulse_report now; /* of the window that is open or whose report is due */
  int64_t live_intent;
  int64_t live_from_ms;
  int64_t opened_at_ms;
  int64_t fired_at_ms;
  int64_t changeover_moved_at_ms;
  int32_t last_token;
  int32_t live_token; /* 0: none */
  uint8_t ring_next;
  bool changeover_seen;
  bool changeover;
  bool open;
  bool report_due;
};

/* No window, no token, an empty ring; tokens are counted up from here. */
void window_init(struct window *window, int32_t tokens_after);
/* The token granted, or 0 when no permit is held. */
int32_t window_grant(struct window *window, const struct window_inputs *in, int64_t intent_number);
/* Opens the window, or says why not. */
enum refusal window_open(struct window *window, const struct window_inputs *in,
                         const struct request *asked);
/* Once in each millisecond; gives the report when it is due, else null. Peaks are of both signs. */
const struct pulse_report *window_step(struct window *window, const struct window_inputs *in);
/* The newest report of this intent, or null. */
const struct pulse_report *window_past(const struct window *window, int64_t intent_number);

#endif
