#include "head.h"

#include <stddef.h>
#include <string.h>

#define CLOSED_FOR_PERMIT \
  ((unsigned)FLAG_CHAIN | (unsigned)FLAG_LID_A | (unsigned)FLAG_LID_B | (unsigned)FLAG_STOP_LOOP)
#define CONTACT_BITS 0x0FFCu

static void send(const struct head *head, const struct line *line) {
  head->send(head->send_to, line->bytes, line->length);
}

static void hello(const struct head *head) {
  struct line line;
  frame_hello(&line, head->identity.boot_id, head->identity.serial_number,
              head->identity.firmware_version, head->identity.watchdog_proven);
  send(head, &line);
  frame_build(&line, head->identity.boot_id, &head->identity.build);
  send(head, &line);
}

static void refuse(const struct head *head, enum refusal why, int64_t intent_number) {
  struct line line;
  frame_refused(&line, head->identity.boot_id, why, intent_number);
  send(head, &line);
}

static void report(const struct head *head, const struct pulse_report *pulse) {
  struct line line;
  frame_report(&line, head->identity.boot_id, pulse);
  send(head, &line);
}

void head_init(struct head *head, struct head_identity identity, int32_t tokens_after,
               head_send *send_line, void *send_to) {
  memset(head, 0, sizeof *head);
  request_reader_init(&head->reader);
  permit_init(&head->permit);
  window_init(&head->window, tokens_after);
  motion_init(&head->motion, &identity.build.jig);
  head->identity = identity;
  head->send = send_line;
  head->send_to = send_to;
  hello(head);
}

static bool closed(const struct head_inputs *inputs, enum head_flag flag) {
  return (inputs->contacts & (unsigned)flag) != 0;
}

static struct window_inputs for_window(const struct head *head) {
  const struct head_inputs *seen = &head->seen;
  const struct window_inputs in = {
      .clock_ms = head->clock_ms,
      .bank_mv = seen->bank_mv,
      .coil_ma = seen->coil_ma,
      .permit_held = head->permit.held,
      .fire_high = seen->fire_high,
      .fill_released = closed(seen, FLAG_FILL_CONTACT),
      .bleed_open = !closed(seen, FLAG_BLEED_CONTACT),
      .reverse_closed = closed(seen, FLAG_REVERSE_CONTACT),
  };
  return in;
}

static struct motion_inputs for_motion(const struct head *head) {
  const struct motion_inputs in = {
      .permit_held = head->permit.held,
      .enabled = head->seen.jig_enabled,
      .home_closed = closed(&head->seen, FLAG_JIG_HOME),
      .far_closed = closed(&head->seen, FLAG_JIG_FAR),
  };
  return in;
}

static bool measured_good(const struct head *head) {
  const struct head_inputs *seen = &head->seen;
  return seen->coil_cdegc > COIL_OPEN_CDEGC && seen->coil_cdegc < COIL_SHORTED_CDEGC &&
         seen->coil_cdegc < head->identity.build.coil_cdegc_max && seen->bank_mv <= BANK_CAP_MV;
}

static void send_status(struct head *head) {
  const struct head_inputs *seen = &head->seen;
  unsigned flags = seen->contacts & CONTACT_BITS;
  flags &= head->chain_opened ? ~(unsigned)FLAG_CHAIN : ~0u;
  flags |= head->permit.held ? (unsigned)FLAG_PERMIT : 0u;
  flags |= head->window.open ? (unsigned)FLAG_WINDOW : 0u;
  flags |= head->permit.latched ? (unsigned)FLAG_LATCHED : 0u;
  flags |= permit_stranger_since(&head->permit, head->clock_ms) ? (unsigned)FLAG_STRANGER : 0u;
  flags |= head->motion.homed ? (unsigned)FLAG_HOMED : 0u;
  const struct status status = {
      .sequence = head->sequence,
      .boot_id = head->identity.boot_id,
      .clock_ms = head->clock_ms,
      .sample_counter = seen->sample_counter,
      .hall_counts = seen->hall_counts,
      .gauge_cdegc = seen->gauge_cdegc,
      .coil_cdegc = seen->coil_cdegc,
      .bank_mv = seen->bank_mv,
      .coil_ma = seen->coil_ma,
      .position_um = motion_position_um(&head->motion),
      .flags = (uint16_t)flags,
  };
  struct line line;
  frame_status(&line, &status);
  send(head, &line);
  head->sequence++;
  head->chain_opened = false;
}

void head_step(struct head *head, const struct head_inputs *inputs) {
  const bool status_due = inputs->clock_ms / STATUS_PERIOD_MS != head->clock_ms / STATUS_PERIOD_MS;
  head->clock_ms = inputs->clock_ms;
  head->seen = *inputs;
  head->chain_opened = head->chain_opened || !closed(inputs, FLAG_CHAIN);
  const bool all_closed = (inputs->contacts & CLOSED_FOR_PERMIT) == CLOSED_FOR_PERMIT;
  permit_step(&head->permit, head->clock_ms, all_closed, measured_good(head));
  const struct window_inputs in = for_window(head);
  const struct pulse_report *pulse = window_step(&head->window, &in);
  if (pulse != NULL) {
    report(head, pulse);
  }
  const struct motion_inputs moves = for_motion(head);
  head->jig_steps = motion_step(&head->motion, &moves);
  if (status_due) {
    send_status(head);
  }
}

static void grant(struct head *head, const struct request *asked) {
  const struct window_inputs in = for_window(head);
  const int32_t token = window_grant(&head->window, &in, asked->intent_number);
  if (token == 0) {
    refuse(head, REFUSAL_NO_PERMIT, asked->intent_number);
    return;
  }
  struct line line;
  frame_grant(&line, head->identity.boot_id, token, asked->intent_number);
  send(head, &line);
}

static void open_window(struct head *head, const struct request *asked) {
  const struct window_inputs in = for_window(head);
  const enum refusal why = window_open(&head->window, &in, asked);
  if (why != REFUSAL_NONE) {
    refuse(head, why, asked->intent_number);
  }
}

static void move(struct head *head, const struct request *asked) {
  const struct motion_inputs in = for_motion(head);
  const enum refusal why = motion_move_to(&head->motion, &in, asked->position_um);
  if (why != REFUSAL_NONE) {
    refuse(head, why, 0);
  }
}

static void past(const struct head *head, const struct request *asked) {
  const struct pulse_report *found = window_past(&head->window, asked->intent_number);
  if (found == NULL) {
    refuse(head, REFUSAL_NOT_IN_RING, asked->intent_number);
    return;
  }
  report(head, found);
}

/* Window and steps must not outlive the permit by even the rest of this millisecond. */
static void let_go(struct head *head) {
  head->window.live_token = 0;
  motion_stop(&head->motion);
  head->jig_steps = 0;
}

void head_take(struct head *head, uint8_t octet) {
  const struct request asked = request_take(&head->reader, octet);
  if (asked.session != 0 && !permit_heeds(&head->permit, head->clock_ms, asked.session)) {
    let_go(head);
    return;
  }
  switch (asked.kind) {
    case REQUEST_NONE:
      break;
    case REQUEST_STOP:
      permit_latch(&head->permit);
      let_go(head);
      break;
    case REQUEST_HEARTBEAT:
      permit_heartbeat(&head->permit, head->clock_ms, asked.session, asked.sequence,
                       asked.permit);
      break;
    case REQUEST_ASK_HELLO:
      hello(head);
      break;
    case REQUEST_ASK_TOKEN:
      grant(head, &asked);
      break;
    case REQUEST_OPEN_WINDOW:
      open_window(head, &asked);
      break;
    case REQUEST_MOVE_TO:
      move(head, &asked);
      break;
    case REQUEST_ASK_PULSE:
      past(head, &asked);
      break;
  }
}

bool head_holds_permit(const struct head *head) {
  return head->permit.held;
}

bool head_opens_window(const struct head *head) {
  return head->window.open && head->permit.held;
}

int32_t head_jig_steps(const struct head *head) {
  return head->jig_steps;
}
