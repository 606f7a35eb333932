/* bandwright.h - everything of libbandwright. */
#ifndef BANDWRIGHT_H
#define BANDWRIGHT_H

#include "base.h"
#include "blank.h"
#include "chance.h"
#include "curve.h"
#include "drift.h"
#include "even.h"
#include "hand.h"
#include "limits.h"
#include "marks.h"
#include "moves.h"
#include "plan.h"
#include "profile.h"
#include "rest.h"
#include "stamp.h"
#include "values.h"
#include "would.h"

#endif
