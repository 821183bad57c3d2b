package lodestep.dial;

import lodestep.port.PlanAnswer;

/** The planner's answer to a {@link MoveQuestion}. */
record MoveAnswer(long number, Move move) implements PlanAnswer {}
