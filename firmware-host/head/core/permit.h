/*
 * When the head holds its permit relay, and what latches it off: PROTOCOL.md, "What the head does by
 * itself", 2 and 3. Times are the head's clock in milliseconds, which never goes back.
 */
#ifndef LODESTEP_PERMIT_H
#define LODESTEP_PERMIT_H

#include <stdbool.h>
#include <stdint.h>

struct permit {
  int64_t heartbeat_at_ms;
  int64_t contacts_open_at_ms;
  int64_t stepped_at_ms;
  int64_t stranger_at_ms;
  uint16_t session; /* the one served, or served last */
  uint16_t heartbeat_sequence;
  bool heard;
  bool disturbed; /* stranger_at_ms has been set */
  bool checks_good;
  bool asked;
  bool seen_not_asking;
  bool latched;
  bool held;
};

/* Everything off, nothing heard. */
void permit_init(struct permit *permit);
/* Once in each millisecond, with what the head sees. The clock runs on while the program hangs. */
void permit_step(struct permit *permit, int64_t clock_ms, bool contacts_closed, bool measured_good);
/* Whether what this session asks is to be done: it is served, or none is. If not, latches. */
bool permit_heeds(struct permit *permit, int64_t clock_ms, uint16_t session);
/* Whether a request of another session came within the last second. */
bool permit_stranger_since(const struct permit *permit, int64_t clock_ms);
/* A heartbeat has come, of a session that is heeded; another than the last begins anew. One with
 * the sequence of the last is a repeat and refreshes nothing. */
void permit_heartbeat(struct permit *permit, int64_t clock_ms, uint16_t session,
                      uint16_t sequence, bool asks);
/* Lets go at once and stays off until the latch is cleared. */
void permit_latch(struct permit *permit);

#endif
