/* The head's lines, as PROTOCOL.md spells them. Each writer gives the length, at most 100 bytes. */
#ifndef LODESTEP_FRAME_H
#define LODESTEP_FRAME_H

#include <stdbool.h>
#include <stdint.h>

#include "limits.h"
#include "motion.h"

struct status {
  uint16_t sequence;
  uint16_t boot_id;
  int64_t clock_ms;
  uint8_t sample_counter;
  int32_t hall_counts;
  int16_t gauge_cdegc;
  int16_t coil_cdegc;
  int32_t bank_mv;
  int32_t coil_ma;
  int32_t position_um;
  uint16_t flags;
};

struct pulse_report {
  int64_t intent_number; /* 0: an empty place of the ring */
  int32_t token;
  int32_t peak_forward_ma;
  int32_t peak_reverse_ma;
  int32_t bank_before_mv;
  int32_t bank_after_mv;
  int32_t duration_us;
  bool fired;
};

/* The figures of the rig that the head is built for. */
struct head_build {
  struct jig jig;
  int16_t coil_cdegc_max; /* the coil stays below this, or no permit */
};

/* A line being written. */
struct line {
  uint8_t bytes[LINE_BYTES_MAX];
  uint8_t length;
};

/* Measured values beyond a field's range are written as its end: "this or beyond". */
void frame_status(struct line *line, const struct status *status);
void frame_report(struct line *line, uint16_t boot_id, const struct pulse_report *report);
void frame_grant(struct line *line, uint16_t boot_id, int32_t token, int64_t intent_number);
void frame_refused(struct line *line, uint16_t boot_id, enum refusal why, int64_t intent_number);
/* Words are printable ASCII without blanks, within their lengths. */
void frame_hello(struct line *line, uint16_t boot_id, const char *serial, const char *firmware,
                 bool watchdog_proven);
void frame_build(struct line *line, uint16_t boot_id, const struct head_build *build);

#endif
