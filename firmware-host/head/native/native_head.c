/*
 * The head's core on a computer, for tests: the same sources as on a microcontroller.
 *
 *   requests   bytes from standard input; prints each request's body, "stop", and at last "bad N"
 *   frames     bodies from standard input, one a line; writes each as the head's line
 *   permit     "s ELAPSED_MS CLOSED GOOD" a step, "h SESSION SEQUENCE ASKS" a heartbeat, "l" a
 *              latch; prints "HELD LATCHED STRANGER" after each
 *   motion     "j PITCH_NM STEPS_PER_TURN TRAVEL_UM SPEED_UM_S" another jig, "m POSITION_UM PERMIT
 *              ENABLED HOME FAR" a request to move, "s PERMIT ENABLED HOME FAR" a millisecond;
 *              prints why it is refused or 0, and "STEPS POSITION_UM HOMED"
 *   script     "i CONTACTS BANK_MV COIL_MA FIRE JIG_ENABLE" what the board reads from now on (contacts in hex),
 *              "n MILLISECONDS" so many steps, "g MILLISECONDS" the program hangs so long, "> LINE" a line of the host, "!" the stop byte;
 *              writes the head's lines
 *   run        the protocol itself on standard input and output, in real time, with every contact
 *              closed, an empty bank and no magnet
 */
#define _POSIX_C_SOURCE 200809L
#include <inttypes.h>
#include <poll.h>
#include <stdio.h>
#include <stdlib.h>
#include <string.h>
#include <time.h>
#include <unistd.h>

#include "head.h"

#define TEXT_MAX 512
#define BOOT_ID 40213
#define COIL_CDEGC_MAX 7000
#define NS_PER_MS 1000000L

static void to_output(void *to, const uint8_t *bytes, uint8_t length) {
  (void)to;
  fwrite(bytes, 1, length, stdout);
}

static void print_request(const struct request *got) {
  switch (got->kind) {
    case REQUEST_NONE:
      break;
    case REQUEST_STOP:
      puts("stop");
      break;
    case REQUEST_HEARTBEAT:
      printf("b %u %u %d\n", got->session, got->sequence, got->permit);
      break;
    case REQUEST_ASK_HELLO:
      puts("h");
      break;
    case REQUEST_ASK_TOKEN:
      printf("t %u %" PRId64 "\n", got->session, got->intent_number);
      break;
    case REQUEST_OPEN_WINDOW:
      printf("w %u %" PRId32 " %" PRId64 " %" PRId32 "\n", got->session, got->token,
             got->intent_number, got->bank_max_mv);
      break;
    case REQUEST_MOVE_TO:
      printf("m %u %" PRId32 "\n", got->session, got->position_um);
      break;
    case REQUEST_ASK_PULSE:
      printf("p %" PRId64 "\n", got->intent_number);
      break;
  }
}

static int requests(void) {
  struct request_reader reader;
  request_reader_init(&reader);
  for (int octet = getchar(); octet != EOF; octet = getchar()) {
    const struct request got = request_take(&reader, (uint8_t)octet);
    print_request(&got);
  }
  printf("bad %" PRIu32 "\n", reader.bad_lines);
  return 0;
}

static bool status_of(const char *text, struct line *line) {
  struct status s;
  const int read = sscanf(
      text, "S %" SCNu16 " %" SCNu16 " %" SCNd64 " %" SCNu8 " %" SCNd32 " %" SCNd16 " %" SCNd16
      " %" SCNd32 " %" SCNd32 " %" SCNd32 " %" SCNx16,
      &s.sequence, &s.boot_id, &s.clock_ms, &s.sample_counter, &s.hall_counts, &s.gauge_cdegc,
      &s.coil_cdegc, &s.bank_mv, &s.coil_ma, &s.position_um, &s.flags);
  if (read == 11) {
    frame_status(line, &s);
  }
  return read == 11;
}

static bool report_of(const char *text, struct line *line) {
  struct pulse_report p;
  uint16_t boot_id;
  int fired;
  const int read = sscanf(text,
                          "P %" SCNu16 " %" SCNd64 " %" SCNd32 " %" SCNd32 " %" SCNd32 " %" SCNd32
                          " %" SCNd32 " %" SCNd32 " %d",
                          &boot_id, &p.intent_number, &p.token, &p.peak_forward_ma,
                          &p.peak_reverse_ma, &p.bank_before_mv, &p.bank_after_mv, &p.duration_us,
                          &fired);
  if (read == 9) {
    p.fired = fired == 1;
    frame_report(line, boot_id, &p);
  }
  return read == 9;
}

static bool other_of(const char *text, struct line *line) {
  uint16_t boot_id;
  int64_t intent_number;
  int32_t token;
  int number;
  int version;
  char serial[SERIAL_CHARACTERS_MAX + 1];
  char firmware[FIRMWARE_CHARACTERS_MAX + 1];
  if (sscanf(text, "T %" SCNu16 " %" SCNd32 " %" SCNd64, &boot_id, &token, &intent_number) == 3) {
    frame_grant(line, boot_id, token, intent_number);
    return true;
  }
  if (sscanf(text, "R %" SCNu16 " %d %" SCNd64, &boot_id, &number, &intent_number) == 3) {
    frame_refused(line, boot_id, (enum refusal)number, intent_number);
    return true;
  }
  struct head_build build;
  int32_t window_ms;
  int32_t cap_mv;
  if (sscanf(text,
             "B %" SCNu16 " %" SCNd32 " %" SCNd32 " %" SCNd32 " %" SCNd32 " %" SCNd32 " %" SCNd32
             " %" SCNd16,
             &boot_id, &build.jig.pitch_nm, &build.jig.steps_per_turn, &build.jig.travel_um,
             &build.jig.speed_um_s, &window_ms, &cap_mv, &build.coil_cdegc_max) == 8) {
    frame_build(line, boot_id, &build);
    return true;
  }
  if (sscanf(text, "H %" SCNu16 " %16s %d %12s %d", &boot_id, serial, &version, firmware,
             &number) == 5) {
    frame_hello(line, boot_id, serial, firmware, number == 1);
    return true;
  }
  return false;
}

static int frames(void) {
  char text[TEXT_MAX];
  while (fgets(text, sizeof text, stdin) != NULL) {
    struct line line;
    if (!status_of(text, &line) && !report_of(text, &line) && !other_of(text, &line)) {
      fprintf(stderr, "no frame: %s", text);
      return 2;
    }
    to_output(NULL, line.bytes, line.length);
  }
  return 0;
}

static int permit(void) {
  struct permit permit;
  permit_init(&permit);
  int64_t clock_ms = 0;
  char text[TEXT_MAX];
  while (fgets(text, sizeof text, stdin) != NULL) {
    int one = 0;
    int other = 0;
    int elapsed_ms = 0;
    int session = 0;
    if (sscanf(text, "s %d %d %d", &elapsed_ms, &one, &other) == 3) {
      clock_ms += elapsed_ms;
      permit_step(&permit, clock_ms, one == 1, other == 1);
    } else if (sscanf(text, "h %d %d %d", &session, &one, &other) == 3) {
      if (permit_heeds(&permit, clock_ms, (uint16_t)session)) {
        permit_heartbeat(&permit, clock_ms, (uint16_t)session, (uint16_t)one, other == 1);
      }
    } else if (text[0] == 'l') {
      permit_latch(&permit);
    } else {
      return 2;
    }
    printf("%d %d %d\n", permit.held, permit.latched,
           permit_stranger_since(&permit, clock_ms));
  }
  return 0;
}

static const struct jig jig = {2000000, 1600, 78000, 8000};

static int motion(void) {
  struct motion motion;
  struct jig other;
  char text[TEXT_MAX];
  motion_init(&motion, &jig);
  while (fgets(text, sizeof text, stdin) != NULL) {
    int permit_held = 0;
    int enabled = 0;
    int home = 0;
    int far = 0;
    int32_t position_um = 0;
    if (sscanf(text, "j %" SCNd32 " %" SCNd32 " %" SCNd32 " %" SCNd32, &other.pitch_nm,
               &other.steps_per_turn, &other.travel_um, &other.speed_um_s) == 4) {
      motion_init(&motion, &other);
      continue;
    }
    if (sscanf(text, "m %" SCNd32 " %d %d %d %d", &position_um, &permit_held, &enabled, &home,
               &far) == 5) {
      const struct motion_inputs in = {permit_held == 1, enabled == 1, home == 1, far == 1};
      printf("%d\n", (int)motion_move_to(&motion, &in, position_um));
    } else if (sscanf(text, "s %d %d %d %d", &permit_held, &enabled, &home, &far) == 4) {
      const struct motion_inputs in = {permit_held == 1, enabled == 1, home == 1, far == 1};
      const int32_t steps = motion_step(&motion, &in);
      printf("%" PRId32 " %" PRId32 " %d\n", steps, motion_position_um(&motion), motion.homed);
    } else {
      return 2;
    }
  }
  return 0;
}

static void begin(struct head *head, bool proven) {
  const struct head_identity identity = {
      "NATIVE-0001", "0.2-native", BOOT_ID, proven, {jig, COIL_CDEGC_MAX}};
  head_init(head, identity, 55101, to_output, NULL);
}

static struct head_inputs at_rest(void) {
  const struct head_inputs inputs = {.contacts = 0x00FC,
                                     .hall_counts = 12,
                                     .gauge_cdegc = 2298,
                                     .coil_cdegc = 2405};
  return inputs;
}

static int script(void) {
  struct head head;
  struct head_inputs inputs = at_rest();
  char text[TEXT_MAX];
  begin(&head, true);
  while (fgets(text, sizeof text, stdin) != NULL) {
    unsigned contacts = 0;
    int fire = 0;
    int enable = 0;
    int steps = 0;
    if (sscanf(text, "i %x %" SCNd32 " %" SCNd32 " %d %d", &contacts, &inputs.bank_mv,
               &inputs.coil_ma, &fire, &enable) >= 4) {
      inputs.contacts = (uint16_t)contacts;
      inputs.fire_high = fire == 1;
      inputs.jig_enabled = enable == 1;
    } else if (sscanf(text, "n %d", &steps) == 1) {
      for (int step = 0; step < steps; step++) {
        inputs.clock_ms++;
        head_step(&head, &inputs);
        inputs.sample_counter++;
      }
    } else if (sscanf(text, "g %d", &steps) == 1) {
      inputs.clock_ms += steps;
    } else if (text[0] == '>' && text[1] == ' ') {
      for (const char *at = text + 2; *at != '\0'; at++) {
        head_take(&head, (uint8_t)*at);
      }
    } else if (text[0] == '!') {
      head_take(&head, STOP_BYTE);
    } else {
      return 2;
    }
  }
  return 0;
}

static int64_t now_ms(void) {
  struct timespec now;
  clock_gettime(CLOCK_MONOTONIC, &now);
  return (int64_t)now.tv_sec * 1000 + now.tv_nsec / NS_PER_MS;
}

static int run(void) {
  struct head head;
  struct head_inputs inputs = at_rest();
  begin(&head, true);
  const int64_t began_ms = now_ms();
  for (;;) {
    struct pollfd input = {STDIN_FILENO, POLLIN, 0};
    if (poll(&input, 1, 1) > 0) {
      uint8_t bytes[LINE_BYTES_MAX];
      const ssize_t length = read(STDIN_FILENO, bytes, sizeof bytes);
      if (length <= 0) {
        return 0;
      }
      for (ssize_t i = 0; i < length; i++) {
        head_take(&head, bytes[i]);
      }
    }
    const int64_t since_ms = now_ms() - began_ms;
    if (since_ms > inputs.clock_ms) {
      inputs.clock_ms = since_ms;
      head_step(&head, &inputs);
      inputs.sample_counter++;
    }
    if (fflush(stdout) != 0) {
      return 0;
    }
  }
}

int main(int count, char **arguments) {
  const char *mode = count == 2 ? arguments[1] : "";
  if (strcmp(mode, "requests") == 0) {
    return requests();
  }
  if (strcmp(mode, "frames") == 0) {
    return frames();
  }
  if (strcmp(mode, "permit") == 0) {
    return permit();
  }
  if (strcmp(mode, "motion") == 0) {
    return motion();
  }
  if (strcmp(mode, "script") == 0) {
    return script();
  }
  if (strcmp(mode, "run") == 0) {
    return run();
  }
  fprintf(stderr, "usage: native-head requests | frames | permit | motion | script | run\n");
  return 2;
}
