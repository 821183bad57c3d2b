#include "motion.h"

#include <string.h>

#define NM_PER_UM 1000
/* Speed at which a motor starts and stops without a ramp, and finds a switch. */
#define CREEP_UM_S 1000
/* While home is sought and the count not proven: which way the motor turns is not known either. */
#define SEEK_UM_S 5000
/* 100 mm/s each second. */
#define RAMP_UM_S_PER_MS 100
#define RAMP_UM_S2 100000
/* From here to home it creeps. */
#define CREEP_FROM_UM 1000
/* Within this a switch that the carriage moves away from has to close. */
#define LEAVE_UM 2000
/* A count that differs further from the switch's place has lost steps. */
#define SHIFT_UM_MAX 100
/* A switch that flickers or catches noise opens for less; home stays open behind the switch. */
#define HOME_OPEN_MS 10

void motion_init(struct motion *motion, const struct jig *jig) {
  memset(motion, 0, sizeof *motion);
  motion->jig = *jig;
}

void motion_stop(struct motion *motion) {
  motion->way = WAY_STANDS;
  motion->speed_um_s = 0;
  motion->due = 0;
}

static int64_t floor_div(int64_t value, int64_t by) {
  const int64_t whole = value / by;
  return value % by < 0 ? whole - 1 : whole;
}

static int64_t steps_of(const struct jig *jig, int64_t um) {
  return floor_div(2 * um * NM_PER_UM * jig->steps_per_turn + jig->pitch_nm, 2 * (int64_t)jig->pitch_nm);
}

static int64_t um_of(const struct jig *jig, int64_t steps) {
  const int64_t by = (int64_t)jig->steps_per_turn * NM_PER_UM;
  return floor_div(2 * steps * jig->pitch_nm + by, 2 * by);
}

int32_t motion_position_um(const struct motion *motion) {
  return motion->jig.pitch_nm == 0 ? 0 : (int32_t)um_of(&motion->jig, motion->steps);
}

static void begin(struct motion *motion, enum motion_way way) {
  motion->way = way;
  motion->gone_steps = 0;
  motion->open_ms = 0;
}

static bool wants_down(const struct motion *motion) {
  return motion->way == WAY_GOES_TO
             ? motion->target_steps > motion->steps
             : motion->way == WAY_LEAVES_HOME || motion->way == WAY_BACKS_OFF;
}

enum refusal motion_move_to(struct motion *motion, const struct motion_inputs *in,
                            int32_t position_um) {
  if (motion->jig.pitch_nm == 0) {
    return REFUSAL_NOT_SAFE;
  }
  if (!in->permit_held) {
    return REFUSAL_NO_PERMIT;
  }
  const bool unknown = position_um != 0 && !motion->homed;
  if (unknown || !in->enabled || position_um < 0 || position_um > motion->jig.travel_um) {
    return REFUSAL_NOT_SAFE;
  }
  motion->far_was_closed = in->far_closed;
  const bool went = motion->way != WAY_STANDS;
  const bool went_down = wants_down(motion);
  const int64_t gone = motion->gone_steps;
  if (position_um == 0) {
    begin(motion, in->home_closed ? WAY_SEEKS_HOME : WAY_LEAVES_HOME);
  } else {
    begin(motion, WAY_GOES_TO);
    motion->target_steps = steps_of(&motion->jig, position_um);
  }
  /* Whoever asks again and again gets no longer way on past a switch than who asks once. */
  motion->gone_steps = went && went_down == wants_down(motion) ? gone : 0;
  return REFUSAL_NONE;
}

static int64_t magnitude(int64_t value) {
  return value < 0 ? -value : value;
}

/* Where the count is proven the switch has opened: it begins here, or shows that steps were lost. */
static void at_home(struct motion *motion) {
  motion_stop(motion);
  if (magnitude(motion->steps) > steps_of(&motion->jig, SHIFT_UM_MAX)) {
    motion->homed = false;
    return;
  }
  motion->steps = 0;
}

/* Home is where the switch opened for good: one that closes again was none. */
static void creep(struct motion *motion, bool home_closed) {
  if (home_closed) {
    motion->open_ms = 0;
    return;
  }
  motion->opened_steps = motion->open_ms == 0 ? motion->steps : motion->opened_steps;
  motion->open_ms++;
  if (motion->open_ms >= HOME_OPEN_MS) {
    motion_stop(motion);
    motion->homed = true;
    motion->steps -= motion->opened_steps;
  }
}

static void look_at_switches(struct motion *motion, const struct motion_inputs *in) {
  switch (motion->way) {
    case WAY_STANDS:
    case WAY_GOES_TO:
      break;
    case WAY_LEAVES_HOME:
      if (in->home_closed) {
        begin(motion, WAY_SEEKS_HOME);
      }
      break;
    case WAY_SEEKS_HOME:
      if (!in->home_closed && motion->homed) {
        at_home(motion);
      } else if (!in->home_closed) {
        begin(motion, WAY_BACKS_OFF);
      } else if (motion->far_was_closed && !in->far_closed) {
        /* Sent home and come to the other end: the motor turns the wrong way. */
        motion->homed = false;
        motion_stop(motion);
      }
      break;
    case WAY_BACKS_OFF:
      if (in->home_closed) {
        begin(motion, WAY_CREEPS_HOME);
      }
      break;
    case WAY_CREEPS_HOME:
      creep(motion, in->home_closed);
      break;
  }
  motion->far_was_closed = motion->far_was_closed || in->far_closed;
}

static int32_t lesser(int32_t one, int32_t other) {
  return one < other ? one : other;
}

/* The speed of the next millisecond: up and down a ramp, so that it is slow where it has to be. */
static int32_t next_speed(const struct motion *motion, bool turns) {
  const bool seeks = motion->way == WAY_SEEKS_HOME;
  const bool ahead = motion->way == WAY_GOES_TO || (seeks && motion->homed);
  const int32_t slow = lesser(CREEP_UM_S, motion->jig.speed_um_s);
  const int32_t top = ahead   ? motion->jig.speed_um_s
                      : seeks ? lesser(SEEK_UM_S, motion->jig.speed_um_s)
                              : slow;
  const int64_t at_um = um_of(&motion->jig, motion->steps);
  const int64_t left_um =
      seeks ? at_um - CREEP_FROM_UM
            : magnitude(um_of(&motion->jig, motion->target_steps - motion->steps));
  const int64_t now = motion->speed_um_s;
  const bool brakes =
      turns || now > top ||
      (ahead && now * now - (int64_t)slow * slow >= 2 * RAMP_UM_S2 * left_um);
  const int32_t next =
      motion->speed_um_s + (brakes ? -RAMP_UM_S_PER_MS : RAMP_UM_S_PER_MS);
  return next < slow ? slow : brakes ? next : lesser(next, top);
}

/* Whether a limit switch, or a way too long, ends the move before these steps. */
static bool ended(struct motion *motion, const struct motion_inputs *in, bool down) {
  const bool at_end = down ? !in->far_closed : motion->way == WAY_GOES_TO && !in->home_closed;
  const bool behind = down ? !in->home_closed : !in->far_closed;
  const bool stuck = behind && motion->gone_steps > steps_of(&motion->jig, LEAVE_UM);
  const int64_t budget_um = (int64_t)motion->jig.travel_um * 11 / 10 + LEAVE_UM;
  const bool endless = motion->gone_steps > steps_of(&motion->jig, budget_um);
  if (at_end || stuck || endless) {
    /* A switch that opens where it should not is the host's to judge; the count stands. */
    motion->homed = motion->homed && !endless;
    motion_stop(motion);
    return true;
  }
  return false;
}

int32_t motion_step(struct motion *motion, const struct motion_inputs *in) {
  if (motion->way != WAY_STANDS && !(in->permit_held && in->enabled)) {
    motion_stop(motion);
  }
  look_at_switches(motion, in);
  const bool there = motion->way == WAY_GOES_TO && motion->target_steps == motion->steps;
  if (there) {
    motion_stop(motion);
  }
  if (motion->way == WAY_STANDS) {
    return 0;
  }
  const bool turns = wants_down(motion) != motion->down && motion->speed_um_s > CREEP_UM_S;
  const bool down = turns ? motion->down : wants_down(motion);
  if (ended(motion, in, down)) {
    return 0;
  }
  motion->speed_um_s = next_speed(motion, turns);
  motion->down = down;
  motion->due += (int64_t)motion->speed_um_s * motion->jig.steps_per_turn;
  int64_t count = motion->due / motion->jig.pitch_nm;
  motion->due -= count * motion->jig.pitch_nm;
  const int64_t left = magnitude(motion->target_steps - motion->steps);
  if (motion->way == WAY_GOES_TO && !turns && count > left) {
    count = left;
  }
  motion->gone_steps += count;
  motion->steps += down ? count : -count;
  return (int32_t)(down ? count : -count);
}
