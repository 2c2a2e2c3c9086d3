#include "rules/graph.h"

#include <algorithm>
#include <queue>

#include <boost/graph/adjacency_list.hpp>
#include <boost/graph/depth_first_search.hpp>
#include <boost/graph/reverse_graph.hpp>
#include <boost/graph/strong_components.hpp>
#include <boost/graph/topological_sort.hpp>

namespace jambcheck::rules {
namespace {

using Graph = boost::adjacency_list<boost::vecS, boost::vecS, boost::bidirectionalS>;

Graph build(std::size_t nodes, const std::vector<std::pair<std::size_t, std::size_t>>& edges) {
  Graph graph(nodes);
  for (const auto& [from, to] : edges) boost::add_edge(from, to, graph);
  return graph;
}

/// The shortest closed walk through `start` inside its strong component.
std::vector<std::size_t> shortest_loop(const Graph& graph, std::size_t start, const std::vector<std::size_t>& component) {
  std::vector<std::size_t> from(boost::num_vertices(graph), boost::num_vertices(graph));
  std::queue<std::size_t> open;
  open.push(start);
  while (!open.empty()) {
    const std::size_t v = open.front();
    open.pop();
    for (auto [e, end] = boost::out_edges(v, graph); e != end; ++e) {
      const std::size_t w = boost::target(*e, graph);
      if (w == start) {
        std::vector<std::size_t> walk = {v};
        while (walk.back() != start) walk.push_back(from[walk.back()]);
        std::reverse(walk.begin(), walk.end());
        return walk;
      }
      if (component[w] != component[start] || from[w] != boost::num_vertices(graph)) continue;
      from[w] = v;
      open.push(w);
    }
  }
  return {};
}

}  // namespace

Order order(std::size_t nodes, const std::vector<std::pair<std::size_t, std::size_t>>& edges) {
  const Graph graph = build(nodes, edges);
  Order result;
  std::vector<std::size_t> component(nodes);
  if (nodes != 0) boost::strong_components(graph, boost::make_iterator_property_map(component.begin(), boost::get(boost::vertex_index, graph)));
  std::vector<bool> reported(nodes, false);
  for (std::size_t v = 0; v < nodes; ++v) {
    if (reported[component[v]]) continue;
    const auto walk = shortest_loop(graph, v, component);
    if (walk.empty()) continue;
    reported[component[v]] = true;
    result.loops.push_back(walk);
  }
  if (!result.loops.empty()) return result;
  boost::topological_sort(graph, std::back_inserter(result.sequence));
  std::reverse(result.sequence.begin(), result.sequence.end());
  return result;
}

std::vector<bool> needed_for(std::size_t nodes, const std::vector<std::pair<std::size_t, std::size_t>>& edges,
                             const std::vector<std::size_t>& targets) {
  const Graph graph = build(nodes, edges);
  const auto backward = boost::make_reverse_graph(graph);
  std::vector<boost::default_color_type> color(nodes, boost::white_color);
  const auto colors = boost::make_iterator_property_map(color.begin(), boost::get(boost::vertex_index, graph));
  for (const std::size_t target : targets)
    if (color[target] == boost::white_color)
      boost::depth_first_visit(backward, target, boost::default_dfs_visitor(), colors);
  std::vector<bool> needed(nodes);
  for (std::size_t v = 0; v < nodes; ++v) needed[v] = color[v] != boost::white_color;
  return needed;
}

}  // namespace jambcheck::rules
