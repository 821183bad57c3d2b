/*
 * The head as a whole, with no pin in it: bytes and measured values in; lines, two outputs and the
 * jig's steps out.
 * A board calls head_step once in each millisecond and head_take for each byte received; both from
 * the same level of interrupt.
 */
#ifndef LODESTEP_HEAD_H
#define LODESTEP_HEAD_H

#include <stdbool.h>
#include <stdint.h>

#include "frame.h"
#include "motion.h"
#include "permit.h"
#include "request.h"
#include "window.h"

#define STATUS_PERIOD_MS 10

/* What the board reads in one millisecond. */
struct head_inputs {
  int64_t clock_ms;  /* since the start, by a timer that runs on while the program hangs */
  uint16_t contacts; /* bits of enum head_flag, CHAIN to JIG_FAR; raised means closed */
  uint8_t sample_counter;
  int32_t hall_counts;
  int16_t gauge_cdegc;
  int16_t coil_cdegc;
  int32_t bank_mv;
  int32_t coil_ma;
  bool fire_high;
  bool jig_enabled; /* jig_enable is high */
};

/* Who the head is and what it was built for; the words outlive the head. */
struct head_identity {
  const char *serial_number;
  const char *firmware_version;
  uint16_t boot_id; /* another at every start */
  bool watchdog_proven;
  struct head_build build;
};

/* Takes a line to be sent; called at most twice in a millisecond, and twice for a byte. */
typedef void head_send(void *to, const uint8_t *bytes, uint8_t length);

struct head {
  struct request_reader reader;
  struct permit permit;
  struct window window;
  struct motion motion;
  struct head_identity identity;
  struct head_inputs seen; /* of the newest millisecond */
  head_send *send;
  void *send_to;
  int64_t clock_ms;
  uint16_t sequence;
  bool chain_opened; /* in any millisecond since the last status line */
  int32_t jig_steps; /* of the newest millisecond */
};

/* Everything off; says hello. Tokens are counted up from here, 0 to TOKEN_MAX. */
void head_init(struct head *head, struct head_identity identity, int32_t tokens_after,
               head_send *send, void *send_to);
void head_step(struct head *head, const struct head_inputs *inputs);
void head_take(struct head *head, uint8_t octet);

/* Whether the permit relay is to be held. */
bool head_holds_permit(const struct head *head);
/* Whether the gate supply is to be let through. */
bool head_opens_window(const struct head *head);
/* Steps that the jig's motor is to make in this millisecond, spread over it; positive towards the
 * work. */
int32_t head_jig_steps(const struct head *head);

#endif
