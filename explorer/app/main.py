"""The entry script of the app: pages in the order of the work, and nothing else."""

# A helper process runs the script of its server again under another name, as Python's
# multiprocessing does it, and must draw no page.
if __name__ == "__main__":
    import streamlit as st

    from explorer.app import copying, session
    from explorer.app.parts.arrived import say_arrival, take_arrival
    from explorer.app.parts.elsewhere import say_elsewhere
    from explorer.app.parts.notes import kept_place
    from explorer.app.parts.open_network import say_network
    from explorer.app.parts.pages import onward, page_row
    from explorer.app.parts.sight import sight
    from explorer.app.parts.start_mine import say_started
    from explorer.app.parts.style import style
    from explorer.app.parts.to_page import know, row_path
    from explorer.app.views import (
        beads,
        colours,
        counting,
        handing_on,
        making,
        neighbours,
        piece,
        proposals,
        shape,
        shelf,
        size,
        together,
    )

    st.set_page_config(
        page_title="Danglewise", page_icon=None, layout="wide", initial_sidebar_state="collapsed"
    )
    style()
    session.begin()
    take_arrival()
    pages = [
        st.Page(size.view, title="Size", url_path="size"),
        st.Page(colours.view, title="Colours", url_path="colours"),
        st.Page(proposals.view, title="Proposals", url_path="proposals"),
        st.Page(shape.view, title="Shape", url_path="shape"),
        st.Page(piece.view, title="Piece", url_path="piece"),
        st.Page(neighbours.view, title="Contrast", url_path="neighbours"),
        st.Page(counting.view, title="Counting", url_path="counting"),
        st.Page(making.view, title="Making", url_path="making"),
        st.Page(handing_on.view, title="Print and share", url_path="handing-on"),
        st.Page(together.view, title="Together", url_path="together"),
        st.Page(shelf.view, title="Shelf", url_path="shelf"),
    ]
    within = [
        # Reached from the pages that deal with beads, so that the row stays short.
        st.Page(beads.view, title="My beads", url_path="beads"),
        # The bare address. The framework takes a default page's own path for a page that is
        # missing, so the first page has a path of its own and this one shows the same.
        st.Page(size.view, title="Size", url_path="", default=True),
    ]
    know([*pages, *within])
    page = st.navigation([*pages, *within], position="hidden")
    page_row(pages, page)
    sight(row_path(page))
    with kept_place():
        say_network()
        say_arrival()
        say_started(row_path(page))
        say_elsewhere()
    page.run()
    onward(pages, page)
    session.end()
    copying.used()
