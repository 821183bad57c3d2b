/*
 * The jig: PROTOCOL.md, "What the head does by itself", 7. Knows nothing of pins: it says how many
 * steps the motor is to make in each millisecond, which a board spreads over it. All in whole
 * numbers, so that every machine makes the same steps.
 */
#ifndef LODESTEP_MOTION_H
#define LODESTEP_MOTION_H

#include <stdbool.h>
#include <stdint.h>

#include "limits.h"

/* The jig the head was built for; no pitch: none. */
struct jig {
  int32_t pitch_nm;       /* way of one turn of the screw, at most PITCH_NM_MAX */
  int32_t steps_per_turn; /* micro-steps counted, at most STEPS_MAX */
  int32_t travel_um;      /* from the home switch to the far switch */
  int32_t speed_um_s;     /* the carriage's fastest */
};

/* What the motion looks at in one millisecond. */
struct motion_inputs {
  bool permit_held;
  bool enabled;     /* jig_enable is high */
  bool home_closed; /* away from home */
  bool far_closed;  /* away from the far end */
};

enum motion_way {
  WAY_STANDS = 0,
  WAY_GOES_TO,
  WAY_LEAVES_HOME, /* home switch open: away from it until it closes */
  WAY_SEEKS_HOME,
  WAY_BACKS_OFF, /* home found at speed: away from it until it closes */
  WAY_CREEPS_HOME
};

struct motion {
  struct jig jig;
  enum motion_way way;
  int64_t steps; /* counted from home, towards the work */
  int64_t target_steps;
  int64_t gone_steps; /* of this part of the move */
  int64_t opened_steps; /* where the home switch opened on the way that creeps */
  int32_t open_ms;      /* since when it has been open there, without a break */
  int64_t due;        /* of a step, in nanometres for each turn */
  int32_t speed_um_s;
  bool down; /* the way of the latest steps */
  bool far_was_closed;
  bool homed;
};

void motion_init(struct motion *motion, const struct jig *jig);
/* Begins a move, or says why not; 0 finds home. */
enum refusal motion_move_to(struct motion *motion, const struct motion_inputs *in,
                            int32_t position_um);
/* Once in each millisecond; gives the steps of it, positive towards the work. */
int32_t motion_step(struct motion *motion, const struct motion_inputs *in);
/* Ends the move; it is not taken up again. */
void motion_stop(struct motion *motion);
int32_t motion_position_um(const struct motion *motion);

#endif
