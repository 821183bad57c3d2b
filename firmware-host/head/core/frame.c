#include "frame.h"

#include "crc16.h"

#define DIGITS_MAX 20

static void octet(struct line *line, uint8_t value) {
  /* No line of the tables comes near the end; should one ever, its checksum will not match. */
  if (line->length < LINE_BYTES_MAX) {
    line->bytes[line->length++] = value;
  }
}

static void begin(struct line *line, char type) {
  line->length = 0;
  octet(line, (uint8_t)type);
}

static void number(struct line *line, int64_t value) {
  uint8_t digits[DIGITS_MAX];
  uint8_t count = 0;
  uint64_t left = value < 0 ? UINT64_C(0) - (uint64_t)value : (uint64_t)value;
  do {
    digits[count++] = (uint8_t)('0' + left % 10);
    left /= 10;
  } while (left > 0);
  octet(line, ' ');
  if (value < 0) {
    octet(line, '-');
  }
  while (count > 0) {
    octet(line, digits[--count]);
  }
}

/* A measured value, held to its field's range. */
static void measured(struct line *line, int64_t value, int64_t smallest, int64_t largest) {
  number(line, value < smallest ? smallest : value > largest ? largest : value);
}

static void hex4(struct line *line, uint16_t value) {
  static const char digits[] = "0123456789ABCDEF";
  octet(line, ' ');
  for (int shift = 12; shift >= 0; shift -= 4) {
    octet(line, (uint8_t)digits[value >> shift & 0xF]);
  }
}

static void word(struct line *line, const char *text, uint8_t characters_max) {
  octet(line, ' ');
  for (uint8_t i = 0; i < characters_max && text[i] != '\0'; i++) {
    octet(line, (uint8_t)text[i]);
  }
}

static void end(struct line *line) {
  uint16_t sum = CRC16_START;
  for (uint8_t i = 0; i < line->length; i++) {
    sum = crc16_add(sum, line->bytes[i]);
  }
  hex4(line, sum);
  octet(line, '\n');
}

void frame_status(struct line *line, const struct status *status) {
  begin(line, 'S');
  number(line, status->sequence);
  number(line, status->boot_id);
  measured(line, status->clock_ms, 0, INT64_C(9999999999999));
  number(line, status->sample_counter);
  measured(line, status->hall_counts, -8388608, 8388607);
  number(line, status->gauge_cdegc);
  number(line, status->coil_cdegc);
  measured(line, status->bank_mv, -9999, 99999);
  measured(line, status->coil_ma, -999999, 999999);
  measured(line, status->position_um, -POSITION_UM_MAX, POSITION_UM_MAX);
  hex4(line, status->flags);
  end(line);
}

void frame_report(struct line *line, uint16_t boot_id, const struct pulse_report *report) {
  begin(line, 'P');
  number(line, boot_id);
  number(line, report->intent_number);
  number(line, report->token);
  measured(line, report->peak_forward_ma, 0, 999999);
  measured(line, report->peak_reverse_ma, 0, 999999);
  measured(line, report->bank_before_mv, -9999, 99999);
  measured(line, report->bank_after_mv, -9999, 99999);
  measured(line, report->duration_us, 0, 9999999);
  number(line, report->fired ? 1 : 0);
  end(line);
}

void frame_grant(struct line *line, uint16_t boot_id, int32_t token, int64_t intent_number) {
  begin(line, 'T');
  number(line, boot_id);
  number(line, token);
  number(line, intent_number);
  end(line);
}

void frame_refused(struct line *line, uint16_t boot_id, enum refusal why, int64_t intent_number) {
  begin(line, 'R');
  number(line, boot_id);
  number(line, why);
  number(line, intent_number);
  end(line);
}

void frame_hello(struct line *line, uint16_t boot_id, const char *serial, const char *firmware,
                 bool watchdog_proven) {
  begin(line, 'H');
  number(line, boot_id);
  word(line, serial, SERIAL_CHARACTERS_MAX);
  number(line, PROTOCOL_VERSION);
  word(line, firmware, FIRMWARE_CHARACTERS_MAX);
  number(line, watchdog_proven ? 1 : 0);
  end(line);
}

void frame_build(struct line *line, uint16_t boot_id, const struct head_build *build) {
  begin(line, 'B');
  number(line, boot_id);
  number(line, build->jig.pitch_nm);
  number(line, build->jig.steps_per_turn);
  number(line, build->jig.travel_um);
  number(line, build->jig.speed_um_s);
  number(line, WINDOW_MAX_MS);
  number(line, BANK_CAP_MV);
  number(line, build->coil_cdegc_max);
  end(line);
}
