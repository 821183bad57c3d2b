#include "request.h"

#include <string.h>

#include "crc16.h"

/* Blank and four digits of the checksum. */
#define CRC_TAIL 5
/* More digits than any field has; one more could overflow 64 bits. */
#define DIGITS_MAX 18

/* A place in a body; falls to bad at the first fault and stays there. */
struct cursor {
  const uint8_t *body;
  uint8_t length;
  uint8_t next;
  bool bad;
};

void request_reader_init(struct request_reader *reader) {
  memset(reader, 0, sizeof *reader);
}

static int hex_digit(uint8_t octet) {
  if (octet >= '0' && octet <= '9') {
    return octet - '0';
  }
  return octet >= 'A' && octet <= 'F' ? octet - 'A' + 10 : -1;
}

static bool checksum_matches(const uint8_t *line, uint8_t length) {
  if (length < CRC_TAIL + 1 || line[length - CRC_TAIL] != ' ') {
    return false;
  }
  uint16_t said = 0;
  for (uint8_t i = (uint8_t)(length - CRC_TAIL + 1); i < length; i++) {
    const int digit = hex_digit(line[i]);
    if (digit < 0) {
      return false;
    }
    said = (uint16_t)(said << 4 | digit);
  }
  uint16_t sum = CRC16_START;
  for (uint8_t i = 0; i < length - CRC_TAIL; i++) {
    sum = crc16_add(sum, line[i]);
  }
  return sum == said;
}

/* A number in its one spelling, within these limits. */
static int64_t number(struct cursor *at, int64_t smallest, int64_t largest) {
  if (at->bad || at->next >= at->length || at->body[at->next] != ' ') {
    at->bad = true;
    return 0;
  }
  at->next++;
  const bool negative = at->next < at->length && at->body[at->next] == '-';
  at->next = (uint8_t)(at->next + (negative ? 1 : 0));
  const uint8_t first = at->next;
  int64_t value = 0;
  while (at->next < at->length && at->body[at->next] != ' ') {
    const uint8_t octet = at->body[at->next];
    if (octet < '0' || octet > '9' || at->next - first >= DIGITS_MAX) {
      at->bad = true;
      return 0;
    }
    value = value * 10 + (octet - '0');
    at->next++;
  }
  const int digits = at->next - first;
  const bool spelt = digits > 0 && (at->body[first] != '0' || (digits == 1 && !negative));
  value = negative ? -value : value;
  at->bad = !spelt || value < smallest || value > largest;
  return value;
}

static struct request fields(struct cursor *at) {
  struct request got = {0};
  switch (at->body[0]) {
    case 'b':
      got.kind = REQUEST_HEARTBEAT;
      got.session = (uint16_t)number(at, 1, SESSION_MAX);
      got.sequence = (uint16_t)number(at, 0, SEQUENCE_MAX);
      got.permit = number(at, 0, 1) == 1;
      break;
    case 'h':
      got.kind = REQUEST_ASK_HELLO;
      break;
    case 't':
      got.kind = REQUEST_ASK_TOKEN;
      got.session = (uint16_t)number(at, 1, SESSION_MAX);
      got.intent_number = number(at, 1, INTENT_MAX);
      break;
    case 'w':
      got.kind = REQUEST_OPEN_WINDOW;
      got.session = (uint16_t)number(at, 1, SESSION_MAX);
      got.token = (int32_t)number(at, 1, TOKEN_MAX);
      got.intent_number = number(at, 1, INTENT_MAX);
      got.bank_max_mv = (int32_t)number(at, 0, BANK_LIMIT_MV_MAX);
      break;
    case 'm':
      got.kind = REQUEST_MOVE_TO;
      got.session = (uint16_t)number(at, 1, SESSION_MAX);
      got.position_um = (int32_t)number(at, -POSITION_UM_MAX, POSITION_UM_MAX);
      break;
    case 'p':
      got.kind = REQUEST_ASK_PULSE;
      got.intent_number = number(at, 1, INTENT_MAX);
      break;
    default:
      at->bad = true;
      break;
  }
  return got;
}

static struct request whole(struct request_reader *reader) {
  const struct request none = {0};
  if (!reader->faulty && checksum_matches(reader->line, reader->length)) {
    struct cursor at = {reader->line, (uint8_t)(reader->length - CRC_TAIL), 1, false};
    const struct request got = fields(&at);
    if (!at.bad && at.next == at.length) {
      return got;
    }
  }
  reader->bad_lines++;
  return none;
}

struct request request_take(struct request_reader *reader, uint8_t octet) {
  struct request got = {0};
  if (octet == STOP_BYTE) {
    /* The line it stands in is dropped to its end; that is no fault. */
    reader->abandoned = reader->abandoned || reader->length > 0 || reader->faulty;
    got.kind = REQUEST_STOP;
    return got;
  }
  if (octet != '\n') {
    if (octet < ' ' || octet > '~' || reader->length == LINE_BYTES_MAX - 1) {
      reader->faulty = true;
    } else if (!reader->faulty) {
      reader->line[reader->length++] = octet;
    }
    return got;
  }
  const bool empty = reader->length == 0 && !reader->faulty;
  if (!empty && !reader->abandoned) {
    got = whole(reader);
  }
  reader->length = 0;
  reader->faulty = false;
  reader->abandoned = false;
  return got;
}
