/*
 * The host's bytes into requests. Total: any byte may come at any time; a bad line is dropped whole
 * and counted, and the next line end puts things right. Holds one line, no more.
 */
#ifndef LODESTEP_REQUEST_H
#define LODESTEP_REQUEST_H

#include <stdbool.h>
#include <stdint.h>

#include "limits.h"

enum request_kind {
  REQUEST_NONE = 0, /* nothing whole has come with this byte */
  REQUEST_STOP,     /* the stop byte; valid anywhere */
  REQUEST_HEARTBEAT,
  REQUEST_ASK_HELLO,
  REQUEST_ASK_TOKEN,
  REQUEST_OPEN_WINDOW,
  REQUEST_MOVE_TO,
  REQUEST_ASK_PULSE
};

/* One request; the fields that its kind does not have are 0. */
struct request {
  enum request_kind kind;
  int64_t intent_number;
  int32_t token;
  int32_t bank_max_mv;
  int32_t position_um;
  uint16_t session; /* one start of the host; 0: the kind carries none */
  uint16_t sequence;
  bool permit;
};

/* The line under way; begin with request_reader_init. */
struct request_reader {
  uint8_t line[LINE_BYTES_MAX];
  uint8_t length;
  bool faulty;
  bool abandoned;
  uint32_t bad_lines; /* dropped since the start, those cut by a stop not among them */
};

void request_reader_init(struct request_reader *reader);

/* Takes one byte in; gives the request that it completes. */
struct request request_take(struct request_reader *reader, uint8_t octet);

#endif
