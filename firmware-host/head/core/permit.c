#include "permit.h"

#include <string.h>

#include "limits.h"

void permit_init(struct permit *permit) {
  memset(permit, 0, sizeof *permit);
}

void permit_latch(struct permit *permit) {
  permit->latched = true;
  permit->held = false;
  permit->asked = false;
  permit->seen_not_asking = false;
  /* Nothing clears it before the next step has seen it, and with it the window. */
  permit->checks_good = false;
}

void permit_step(struct permit *permit, int64_t clock_ms, bool contacts_closed,
                 bool measured_good) {
  if (!contacts_closed) {
    permit->contacts_open_at_ms = clock_ms;
  }
  const bool fresh =
      permit->heard && clock_ms - permit->heartbeat_at_ms <= HEARTBEAT_FRESH_MS;
  permit->checks_good = contacts_closed &&
                        clock_ms - permit->contacts_open_at_ms >= CONTACTS_STABLE_MS &&
                        measured_good;
  const bool on_time = clock_ms - permit->stepped_at_ms <= LOOP_LATE_MS;
  permit->stepped_at_ms = clock_ms;
  /* While it is held an opening acts at once and waits for no stable time. */
  if (permit->held && !(fresh && on_time && contacts_closed && measured_good)) {
    permit_latch(permit);
  }
  permit->held = fresh && permit->asked && permit->checks_good && !permit->latched;
}

bool permit_heeds(struct permit *permit, int64_t clock_ms, uint16_t session) {
  const bool live =
      permit->heard && clock_ms - permit->heartbeat_at_ms <= HEARTBEAT_FRESH_MS;
  if (!live || session == permit->session) {
    return true;
  }
  permit->disturbed = true;
  permit->stranger_at_ms = clock_ms;
  permit_latch(permit);
  return false;
}

void permit_heartbeat(struct permit *permit, int64_t clock_ms, uint16_t session,
                      uint16_t sequence, bool asks) {
  if (session != permit->session) {
    permit->session = session;
    permit->heard = false;
    permit->asked = false;
    permit->seen_not_asking = false;
  }
  if (permit->heard && sequence == permit->heartbeat_sequence) {
    return;
  }
  permit->heard = true;
  permit->heartbeat_sequence = sequence;
  permit->heartbeat_at_ms = clock_ms;
  if (!asks) {
    permit->asked = false;
    permit->seen_not_asking = true;
  } else if (!permit->seen_not_asking && !permit->latched) {
    /* A host that asks with its first word has not noticed that the head started anew. */
    permit_latch(permit);
  } else if (permit->latched) {
    permit->latched = !(permit->seen_not_asking && permit->checks_good);
    permit->asked = !permit->latched;
    permit->seen_not_asking = !permit->latched;
  } else {
    permit->asked = true;
  }
}

bool permit_stranger_since(const struct permit *permit, int64_t clock_ms) {
  return permit->disturbed && clock_ms - permit->stranger_at_ms < STRANGER_TOLD_MS;
}
