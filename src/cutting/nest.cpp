#include "cutting/nest.h"

#include "cutting/layout.h"
#include "cutting/pair_depth.h"

#include <chrono>

namespace leafwright {

Outcome<NestResult> first_nest(NestJob const& job) {
    Outcome<NestModel> const model = nest_model(job);
    if (!model) return model.problem();
    PairTables const tables(*model, 1);
    return result_of(*model, first_layout(*model, tables));
}

Outcome<NestResult> nest(NestJob const& job, NestOptions const&, Task* task, NestImproved const& improved) {
    Outcome<NestResult> const first = first_nest(job);
    if (!first) return first.problem();
    if (improved) improved(*first);
    if (task) task->progress(1);
    return first;
}

} // namespace leafwright
